import { type Atom, keyOf } from './atoms.js';
import { UNKNOWN } from './places.js';

/** What repeating until a spot is reached comes to. */
export interface Arrival {
  /** Fewest times until the spot is reached; absent where it never is. */
  readonly times: ReadonlyMap<number, number>;
  /** Every place at which the player looks, the spot included where it is met. */
  readonly visited: ReadonlySet<number>;
  /** Whether some way leaves what is known. */
  readonly lost: boolean;
}

/**
 * Fewest times from each atom until the target, by breadth backwards over what is reached
 * forwards: each atom once, however many starts share it.
 */
export function arrival(
  from: readonly Atom[],
  target: number,
  map: (atom: Atom) => readonly Atom[],
): Arrival {
  const goal = keyOf({ place: target, ahead: 0 });
  const before = new Map<number, number[]>();
  const visited = new Set<number>();
  const seen = new Set<number>();
  const open: Atom[] = [];
  let lost = false;
  const meet = (atom: Atom): void => {
    if (atom.place === UNKNOWN) lost = true;
    else if (!seen.has(keyOf(atom))) {
      seen.add(keyOf(atom));
      if (atom.ahead === 0) visited.add(atom.place);
      open.push(atom);
    }
  };
  for (const atom of from) meet(atom);
  for (let i = 0; i < open.length; i++) {
    const atom = open[i];
    // The player stops at the spot.
    if (atom === undefined || keyOf(atom) === goal) continue;
    for (const to of map(atom)) {
      meet(to);
      const list = before.get(keyOf(to));
      if (list === undefined) before.set(keyOf(to), [keyOf(atom)]);
      else list.push(keyOf(atom));
    }
  }
  const times = new Map<number, number>();
  if (!seen.has(goal)) return { times, visited, lost };
  times.set(goal, 0);
  for (const [key, distance] of times) {
    for (const each of before.get(key) ?? []) {
      if (!times.has(each)) times.set(each, distance + 1);
    }
  }
  return { times, visited, lost };
}
