import type { Vector } from './lattice.js';

/** Where moves may lead: the corners of the ground, and points that are not to be stepped on. */
export interface Room {
  readonly low: Vector | undefined;
  readonly high: Vector | undefined;
  avoid(at: Vector): boolean;
  /** Moves that cannot come first: where the course begins, the log says otherwise. */
  readonly notFirst: ReadonlySet<number>;
}

/** Kinds of moves of which every order in blocks is tried. */
const MOST_BLOCKS = 6;
/** Partial orders looked at before giving up. */
const BUDGET = 50_000;

/**
 * An order of moves, each as often as counted, that never leaves the room: in blocks of equal
 * moves where that works, since those are easiest to play; else along the straight line; else
 * any. 'none' where every order leaves it, 'unknown' where too many would have to be tried.
 */
export function orderWithin(
  counts: readonly number[],
  moves: readonly Vector[],
  from: Vector,
  room: Room,
): readonly number[] | 'none' | 'unknown' {
  const kinds = counts.flatMap((count, i) => (count > 0 ? [i] : []));
  const fits = (at: Vector): boolean => isWithin(at, room) && !room.avoid(at);
  if (kinds.length <= MOST_BLOCKS) {
    for (const order of permutations(kinds)) {
      const steps = order.flatMap((i) => new Array<number>(counts[i] ?? 0).fill(i));
      if (staysIn(steps, moves, from, room, fits)) return steps;
    }
  }
  const straight = alongLine(counts, moves, from);
  if (staysIn(straight, moves, from, room, fits)) return straight;
  return anyOrder(counts, moves, from, room, fits);
}

export function isWithin(at: Vector, { low, high }: Room): boolean {
  if (low === undefined || high === undefined) return true;
  return at.every((value, i) => value >= (low[i] ?? value) && value <= (high[i] ?? value));
}

/** Whether every point but the last, which is given, may be stepped on. */
function staysIn(
  steps: readonly number[],
  moves: readonly Vector[],
  from: Vector,
  { notFirst }: Room,
  fits: (at: Vector) => boolean,
): boolean {
  if (notFirst.has(steps[0] ?? -1)) return false;
  let at = from;
  for (let k = 0; k + 1 < steps.length; k++) {
    at = plus(at, moves[steps[k] ?? 0] ?? []);
    if (!fits(at)) return false;
  }
  return true;
}

/** At each step the move that keeps closest to the straight line to the end. */
function alongLine(counts: readonly number[], moves: readonly Vector[], from: Vector): number[] {
  const left = [...counts];
  const total = left.reduce((sum, count) => sum + count, 0);
  const way = from.map((_, axis) =>
    counts.reduce((sum, count, i) => sum + count * (moves[i]?.[axis] ?? 0), 0),
  );
  const steps: number[] = [];
  let gone: Vector = from.map(() => 0);
  for (let k = 1; k <= total; k++) {
    let best = -1;
    let least = Infinity;
    for (let i = 0; i < left.length; i++) {
      if ((left[i] ?? 0) === 0) continue;
      const next = plus(gone, moves[i] ?? []);
      const off = next.reduce((sum, x, axis) => sum + ((way[axis] ?? 0) * (k / total) - x) ** 2, 0);
      if (off < least) [best, least] = [i, off];
    }
    left[best] = (left[best] ?? 0) - 1;
    gone = plus(gone, moves[best] ?? []);
    steps.push(best);
  }
  return steps;
}

/** Depth first over what is left of each move; what failed once is not tried again. */
function anyOrder(
  counts: readonly number[],
  moves: readonly Vector[],
  from: Vector,
  { notFirst }: Room,
  fits: (at: Vector) => boolean,
): readonly number[] | 'none' | 'unknown' {
  const left = [...counts];
  const steps: number[] = [];
  const places: Vector[] = [from];
  const failed = new Set<string>();
  const next: number[] = [0];
  let total = left.reduce((sum, count) => sum + count, 0);
  for (let looked = 0; next.length > 0; looked++) {
    if (total === 0) return steps;
    if (looked > BUDGET) return 'unknown';
    const depth = next.length - 1;
    const i = next[depth] ?? 0;
    if (i >= left.length) {
      failed.add(left.join(' '));
      next.pop();
      places.pop();
      const undone = steps.pop();
      if (undone !== undefined) left[undone] = (left[undone] ?? 0) + 1;
      total++;
      continue;
    }
    next[depth] = i + 1;
    if ((left[i] ?? 0) === 0 || (depth === 0 && notFirst.has(i))) continue;
    const at = plus(places[depth] ?? from, moves[i] ?? []);
    if (total > 1 && !fits(at)) continue;
    left[i] = (left[i] ?? 0) - 1;
    if (failed.has(left.join(' '))) {
      left[i] = (left[i] ?? 0) + 1;
      continue;
    }
    total--;
    steps.push(i);
    places.push(at);
    next.push(0);
  }
  return 'none';
}

function* permutations(items: readonly number[]): Generator<readonly number[]> {
  if (items.length <= 1) yield items;
  else {
    for (let i = 0; i < items.length; i++) {
      const first = items[i] ?? 0;
      for (const rest of permutations([...items.slice(0, i), ...items.slice(i + 1)])) {
        yield [first, ...rest];
      }
    }
  }
}

export function plus(a: Vector, b: Vector): Vector {
  return a.map((x, i) => x + (b[i] ?? 0));
}
