import type { Program, SourceFile } from '../model/program.js';
import type { Item, Unit } from '../syntax/tree.js';
import { Memo } from '../text/memo.js';
import { bodiesOf } from './bodies.js';
import { spotsNamed } from './checks/spots.js';
import type { FileFacts } from './rule.js';
import { visit } from './visit.js';

const NONE: ReadonlySet<string> = new Set();
const used = new Memo<Unit, ReadonlySet<string>>();

/** The phrases that a declaration uses, itself left out; found once. */
export function phrasesIn(unit: Unit): ReadonlySet<string> {
  let known = used.get(unit);
  if (known === undefined) {
    known = find(unit);
    used.set(unit, known);
  }
  return known;
}

function find(unit: Unit): ReadonlySet<string> {
  const { declaration } = unit;
  let names: Set<string> | undefined;
  const item = (item: Item): void => {
    if (item.kind === 'phrase') (names ??= new Set()).add(item.name);
  };
  for (const body of bodiesOf(declaration)) visit(body, unit, { item, spot: () => undefined });
  if (declaration.kind === 'let') names?.delete(declaration.name?.name ?? '');
  return names ?? NONE;
}

/** The facts of a file, looked up as they are asked for. */
export function factsOf(program: Program, file: SourceFile): FileFacts {
  const units = file.tree.units.map(({ unit }) => unit);
  let phrases: Set<string> | undefined;
  const used = (): Set<string> =>
    (phrases ??= new Set(units.flatMap((unit) => [...phrasesIn(unit)])));
  let spots: ReadonlySet<string> | undefined;
  return {
    broken: units.some(({ problems }) => problems.length > 0),
    routes: units.some(({ declaration }) => declaration.kind === 'route'),
    phrases: () => units.filter(({ declaration }) => declaration.kind === 'let'),
    spots: () => units.filter(({ declaration }) => declaration.kind === 'spot'),
    uses: (phrase) => used().has(phrase),
    used,
    names: (spot) => (spots ??= spotsNamed(program)).has(spot),
  };
}
