import type { Program } from '../../model/program.js';
import type { Item, Unit } from '../../syntax/tree.js';

const byUnit = new WeakMap<Unit, ReadonlySet<string>>();

/** Every spot that a row, a route or a rescue of a program names. */
export function spotsNamed(program: Program): ReadonlySet<string> {
  const all = new Set<string>();
  for (const { tree } of program.files.values()) {
    for (const { unit } of tree.units) for (const name of namedIn(unit)) all.add(name);
  }
  return all;
}

/** The spots that one declaration names, found once. */
export function namedIn(unit: Unit): ReadonlySet<string> {
  let names = byUnit.get(unit);
  if (names === undefined) {
    names = new Set(list(unit));
    byUnit.set(unit, names);
  }
  return names;
}

function* list({ declaration }: Unit): Generator<string> {
  switch (declaration.kind) {
    case 'seen':
      for (const { from, to, body } of declaration.rows) {
        yield from.name;
        if (to !== undefined) yield to.name;
        yield* inItems(body);
      }
      break;
    case 'route':
      if (declaration.to !== undefined) yield declaration.to.name;
      if (Array.isArray(declaration.from)) {
        for (const { spot } of declaration.from as readonly { spot: { name: string } }[]) {
          yield spot.name;
        }
      }
      yield* inItems(declaration.body);
      break;
    case 'rescue':
      if (declaration.spot !== undefined) yield declaration.spot.name;
      if (declaration.to !== undefined) yield declaration.to.name;
      yield* inItems(declaration.body);
      break;
    case 'let':
      yield* inItems(declaration.body);
      break;
    default:
      break;
  }
}

function* inItems(items: readonly Item[]): Generator<string> {
  for (const item of items) {
    for (const mark of item.marks) if (mark.kind === 'claim') yield mark.name;
    if (item.repeat?.until !== undefined) yield item.repeat.until.name;
    if (item.kind === 'choose') for (const way of item.ways) yield* inItems(way.body);
    if (item.kind === 'group' || item.kind === 'pause' || item.kind === 'hold') {
      yield* inItems(item.body);
    }
  }
}
