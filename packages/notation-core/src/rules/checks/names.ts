import type { Item, Name, RescueDeclaration, RouteDeclaration, Unit } from '../../syntax/tree.js';
import type { Report } from '../../model/problems.js';
import type { Scope } from '../../model/scope.js';
import { Memo } from '../../text/memo.js';
import { nearest } from '../../text/suggest.js';
import type { ItemPlace } from '../rule.js';
import type { Visitor } from '../visit.js';

const introduced = new Memo<Scope, ReadonlySet<string>>();

/** Unknown names of a scope that a near one is looked for: each look goes through every name. */
const GUESSES = 100;

interface Guesses {
  count: number;
  readonly near: Map<string, string>;
}
const guessed = new Memo<Scope, Guesses>();

function near(kind: string, name: string, known: Iterable<string>, scope: Scope): string {
  let guesses = guessed.get(scope);
  if (guesses === undefined) guessed.set(scope, (guesses = { count: 0, near: new Map() }));
  if (guesses.count >= GUESSES) return '';
  guesses.count++;
  // Declarations share their mistakes, and a scope its names.
  const key = `${kind} ${name}`;
  let found = guesses.near.get(key);
  if (found === undefined) guesses.near.set(key, (found = nearest(name, known) ?? ''));
  return found;
}

/** Near names are looked for again, as often as in a new scope. */
export function renewGuesses(scope: Scope): void {
  guessed.set(scope, { count: 0, near: new Map() });
}

/** The spots that a scope knows: declared ones, those of the log, and the goals of routes. */
export function spotsOf(scope: Scope): ReadonlySet<string> {
  const known = introduced.get(scope);
  if (known !== undefined) return known;
  const spots = new Set([...scope.spots.keys(), ...scope.logged]);
  for (const { declaration } of scope.routes.values()) {
    if (declaration.to !== undefined) spots.add(declaration.to.name);
  }
  introduced.set(scope, spots);
  return spots;
}

function checkSpot(name: Name, unit: Unit, scope: Scope, report: Report): void {
  const spots = spotsOf(scope);
  if (spots.has(name.name)) return;
  const { start, end } = name;
  report(
    'undeclared-spot',
    { unit, start, end },
    { name: name.name, near: near('spot', name.name, spots, scope) },
  );
}

/** What the header of a route or a rescue names. */
export function checkHeader(
  declaration: RouteDeclaration | RescueDeclaration,
  unit: Unit,
  scope: Scope,
  report: Report,
): void {
  if (declaration.kind === 'route') {
    if (declaration.from === undefined || declaration.from === 'anywhere') return;
    for (const { spot } of declaration.from) checkSpot(spot, unit, scope, report);
    return;
  }
  const { spot, route, to } = declaration;
  if (spot !== undefined) checkSpot(spot, unit, scope, report);
  if (to !== undefined) checkSpot(to, unit, scope, report);
  if (route === undefined || scope.routes.has(route.name)) return;
  const { name, start, end } = route;
  const guess = near('route', name, scope.routes.keys(), scope);
  report('unknown-name', { unit, start, end }, { kind: 'route', name, near: guess });
}

/** What stands in the text of any declaration whose body has names to check. */
export const NAMES = /@|choose/;

/** The names in a body: spots (each said once), and choices and ways called alike. */
export class NamesVisitor implements Visitor {
  private spots: Set<string> | undefined;
  private choices: Set<string> | undefined;

  constructor(
    private readonly inner: Visitor,
    private readonly scope: Scope,
    private readonly unit: Unit,
    private readonly report: Report,
  ) {}

  item(item: Item, at: ItemPlace): void {
    this.inner.item(item, at);
    if (item.kind !== 'choose') return;
    if (item.name !== undefined) this.once((this.choices ??= new Set()), item.name, 'choice');
    const ways = new Set<string>();
    for (const way of item.ways) this.once(ways, way.name, 'way');
  }

  spot(name: Name): void {
    this.spots ??= new Set();
    if (this.spots.has(name.name)) return;
    this.spots.add(name.name);
    checkSpot(name, this.unit, this.scope, this.report);
  }

  private once(taken: Set<string>, { name, start, end }: Name, kind: string): void {
    if (taken.has(name)) {
      this.report('duplicate-name', { unit: this.unit, start, end }, { kind, name });
    }
    taken.add(name);
  }
}
