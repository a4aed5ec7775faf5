import type { LogGraph } from './graph.js';
import { Heap } from './heap.js';

/** Weights up to this are searched by buckets, one a distance. */
const BUCKETS = 1 << 16;

/**
 * Rows of the log from one spot to every other, by breadth; -1 where no rows lead.
 * Time and memory in proportion to spots and rows.
 */
export function stepsFrom(graph: LogGraph, from: number): Int32Array {
  const { spots, head, to } = graph;
  const steps = new Int32Array(spots).fill(-1);
  const queue = new Int32Array(spots);
  let end = 1;
  queue[0] = from;
  steps[from] = 0;
  for (let at = 0; at < end; at++) {
    // Indices stay inside the arrays by their making; the fallbacks are never taken.
    const spot = queue[at] ?? 0;
    const next = (steps[spot] ?? 0) + 1;
    const last = head[spot + 1] ?? 0;
    for (let row = head[spot] ?? 0; row < last; row++) {
      const landing = to[row] ?? 0;
      if ((steps[landing] ?? 0) < 0) {
        steps[landing] = next;
        queue[end++] = landing;
      }
    }
  }
  return steps;
}

/**
 * The least sum of weights from one spot to every other; Infinity where no rows lead.
 * `weights` gives what each row costs, whole numbers from 0 on. Dijkstra (Numer. Math. 1
 * (1959) 269) with Dial's buckets (Comm. ACM 12 (1969) 632) while weights are small, else
 * with a heap.
 */
export function costsFrom(graph: LogGraph, from: number, weights: Float64Array): Float64Array {
  let most = 0;
  for (const weight of weights) if (weight > most && weight < Infinity) most = weight;
  return most < BUCKETS ? byBuckets(graph, from, weights, most) : byHeap(graph, from, weights);
}

function byBuckets(
  graph: LogGraph,
  from: number,
  weights: Float64Array,
  most: number,
): Float64Array {
  const { spots, head, to } = graph;
  const costs = new Float64Array(spots).fill(Infinity);
  // Spots wait in linked lists, one a distance; distances in waiting span `most` + 1 at once.
  const size = most + 1;
  const first = new Int32Array(size).fill(-1);
  const after = new Int32Array(spots).fill(-1);
  const before = new Int32Array(spots).fill(-1);
  const isIn = new Uint8Array(spots);
  let waiting = 1;
  costs[from] = 0;
  first[0] = from;
  isIn[from] = 1;
  for (let cost = 0; waiting > 0; cost++) {
    const bucket = cost % size;
    for (let spot = first[bucket] ?? -1; spot >= 0; spot = first[bucket] ?? -1) {
      const rest = after[spot] ?? -1;
      first[bucket] = rest;
      if (rest >= 0) before[rest] = -1;
      isIn[spot] = 0;
      waiting--;
      const last = head[spot + 1] ?? 0;
      for (let row = head[spot] ?? 0; row < last; row++) {
        const landing = to[row] ?? 0;
        const sum = cost + (weights[row] ?? Infinity);
        const known = costs[landing] ?? 0;
        if (sum >= known) continue;
        if (isIn[landing] === 1) {
          const [b, a] = [before[landing] ?? -1, after[landing] ?? -1];
          if (b >= 0) after[b] = a;
          else first[known % size] = a;
          if (a >= 0) before[a] = b;
          waiting--;
        }
        costs[landing] = sum;
        const into = sum % size;
        const head2 = first[into] ?? -1;
        after[landing] = head2;
        before[landing] = -1;
        if (head2 >= 0) before[head2] = landing;
        first[into] = landing;
        isIn[landing] = 1;
        waiting++;
      }
    }
  }
  return costs;
}

function byHeap(graph: LogGraph, from: number, weights: Float64Array): Float64Array {
  const { spots, head, to } = graph;
  const costs = new Float64Array(spots).fill(Infinity);
  const heap = new Heap();
  costs[from] = 0;
  heap.push(from, 0);
  for (let spot = heap.pop(); spot >= 0; spot = heap.pop()) {
    const cost = heap.lastKey;
    if (cost > (costs[spot] ?? 0)) continue;
    const last = head[spot + 1] ?? 0;
    for (let row = head[spot] ?? 0; row < last; row++) {
      const landing = to[row] ?? 0;
      const sum = cost + (weights[row] ?? Infinity);
      if (sum < (costs[landing] ?? 0)) {
        costs[landing] = sum;
        heap.push(landing, sum);
      }
    }
  }
  return costs;
}
