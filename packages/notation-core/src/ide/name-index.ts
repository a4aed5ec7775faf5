import type { Placed, Tree, Unit } from '../syntax/tree.js';
import { type NameKind, walkNames } from './occurrences.js';

/**
 * Where names stand, kept a unit as lists of numbers: a workspace holds far more names than
 * objects for each would leave room for. A unit that does not change is walked once.
 */

/** Where one name stands in a unit, in the order of the text; offsets count from its start. */
export interface Stands {
  readonly starts: readonly number[];
  /** Those of the starts at which the name is given. */
  readonly declared: readonly number[];
}

const NOWHERE: Stands = { starts: [], declared: [] };
type Growing = { starts: number[]; declared: number[] };
type Index = ReadonlyMap<NameKind, ReadonlyMap<string, Stands>>;
const inputs = new WeakMap<Unit, Index>();
const others = new WeakMap<Unit, Index>();

export function standsIn(unit: Unit, kind: NameKind, name: string): Stands {
  // Most units name none of what is asked for, and a look at the text costs next to nothing.
  if (!unit.text.includes(name)) return NOWHERE;
  return (
    indexed(unit, kind === 'input')
      .get(kind)
      ?.get(name) ?? NOWHERE
  );
}

/**
 * Looks at a unit before anybody asks, so that the first question about a large workspace finds
 * it done. For the idle moments of a server: a unit at a time is a fraction of a millisecond.
 */
export function warmNames(unit: Unit): void {
  indexed(unit, true);
  indexed(unit, false);
}

function indexed(unit: Unit, ofInputs: boolean): Index {
  const known = ofInputs ? inputs : others;
  let index = known.get(unit);
  if (index === undefined) known.set(unit, (index = indexOf(unit, ofInputs)));
  return index;
}

function indexOf(unit: Unit, ofInputs: boolean): Index {
  const index = new Map<NameKind, Map<string, Growing>>();
  walkNames(unit, ofInputs ? 'inputs' : 'others', (kind, name, start, _end, declares) => {
    let names = index.get(kind);
    if (names === undefined) index.set(kind, (names = new Map<string, Growing>()));
    let stands = names.get(name);
    if (stands === undefined) names.set(name, (stands = { starts: [], declared: [] }));
    stands.starts.push(start);
    if (declares) stands.declared.push(start);
  });
  for (const names of index.values()) {
    for (const { starts, declared } of names.values()) {
      putInOrder(starts);
      putInOrder(declared);
    }
  }
  return index;
}

/** Names are met nearly in their order: seldom is there anything to do. */
function putInOrder(starts: number[]): void {
  for (let k = 1; k < starts.length; k++) {
    if ((starts[k - 1] ?? 0) <= (starts[k] ?? 0)) continue;
    starts.sort((a, b) => a - b);
    return;
  }
}

/** A unit that names what is asked for. */
export interface Naming {
  readonly placed: Placed;
  readonly stands: Stands;
}

/** Names asked of one tree that are kept; a note has more, an hour of editing seldom asks for them. */
const MOST = 100;
const answers = new WeakMap<Tree, Map<string, readonly Naming[]>>();

/** The units of a file that name something, in order; kept for as long as the file stays as it is. */
export function unitsNaming(tree: Tree, kind: NameKind, name: string): readonly Naming[] {
  let known = answers.get(tree);
  if (known === undefined) answers.set(tree, (known = new Map<string, readonly Naming[]>()));
  const key = `${kind} ${name}`;
  let found = known.get(key);
  if (found === undefined) {
    found = tree.text.includes(name) ? naming(tree, kind, name) : NONE;
    if (known.size >= MOST) known.clear();
    known.set(key, found);
  }
  return found;
}

const NONE: readonly Naming[] = [];

function naming(tree: Tree, kind: NameKind, name: string): readonly Naming[] {
  const found: Naming[] = [];
  for (const placed of tree.units) {
    const stands = standsIn(placed.unit, kind, name);
    if (stands.starts.length > 0) found.push({ placed, stands });
  }
  return found.length === 0 ? NONE : found;
}
