import { Heap } from './heap.js';
import type { Vector } from './lattice.js';
import type { Room } from './order.js';

/** Points of a ground that are looked at one by one at most. */
const MOST_CELLS = 4_000_000;

export type CellAnswer =
  | { readonly kind: 'order'; readonly order: readonly number[]; readonly cost: number }
  /** No course stays inside: all points that can be reached were looked at. */
  | { readonly kind: 'impossible'; readonly reached: number }
  | { readonly kind: 'unknown' };

/**
 * The cheapest course inside a bounded ground, point by point (Dijkstra): for what no order of
 * cheapest counts can do. `undefined` is yielded every so often.
 */
export function* courseByCells(
  moves: readonly Vector[],
  costs: readonly number[],
  from: Vector,
  isGoal: (at: Vector) => boolean,
  room: Room,
): Generator<undefined, CellAnswer> {
  const { low, high } = room;
  if (low === undefined || high === undefined) return { kind: 'unknown' };
  const sizes = low.map((value, i) => (high[i] ?? value) - value + 1);
  const cells = sizes.reduce((product, size) => product * size, 1);
  if (!(cells <= MOST_CELLS)) return { kind: 'unknown' };
  const indexOf = (at: Vector): number => {
    let index = 0;
    for (let axis = 0; axis < sizes.length; axis++) {
      const value = (at[axis] ?? 0) - (low[axis] ?? 0);
      const size = sizes[axis] ?? 1;
      if (value < 0 || value >= size) return -1;
      index = index * size + value;
    }
    return index;
  };
  const pointOf = (index: number): Vector => {
    const at: number[] = [];
    for (let axis = sizes.length - 1, rest = index; axis >= 0; axis--) {
      const size = sizes[axis] ?? 1;
      at[axis] = (rest % size) + (low[axis] ?? 0);
      rest = Math.floor(rest / size);
    }
    return at;
  };
  const known = new Float64Array(cells).fill(Infinity);
  const by = new Int32Array(cells).fill(-1);
  const heap = new Heap();
  const start = indexOf(from);
  if (start < 0) return { kind: 'impossible', reached: 0 };
  known[start] = 0;
  heap.push(start, 0);
  let reached = 0;
  for (let cell = heap.pop(); cell >= 0; cell = heap.pop()) {
    const cost = heap.lastKey;
    if (cost > (known[cell] ?? 0)) continue;
    if (++reached % 4096 === 0) yield undefined;
    const at = pointOf(cell);
    if (isGoal(at) && cell !== start) {
      const order: number[] = [];
      for (let back = cell; back !== start;) {
        const move = by[back] ?? 0;
        order.push(move);
        back = indexOf(pointOf(back).map((x, axis) => x - (moves[move]?.[axis] ?? 0)));
      }
      return { kind: 'order', order: order.reverse(), cost };
    }
    if (cell !== start && room.avoid(at)) continue;
    for (let i = 0; i < moves.length; i++) {
      if (cell === start && room.notFirst.has(i)) continue;
      const move = moves[i] ?? [];
      const to = indexOf(at.map((x, axis) => x + (move[axis] ?? 0)));
      const sum = cost + (costs[i] ?? Infinity);
      if (to < 0 || sum >= (known[to] ?? 0)) continue;
      known[to] = sum;
      by[to] = i;
      heap.push(to, sum);
    }
  }
  return { kind: 'impossible', reached };
}
