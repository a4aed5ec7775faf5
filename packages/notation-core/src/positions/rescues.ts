import { stepsFrom } from './distances.js';
import { type LogGraph, graphOf } from './graph.js';
import type { Log } from './log.js';
import type { Edge } from './space.js';

/** A spot that a rescue can lead back to: in front of which move of a path it is claimed. */
export interface Rejoin {
  readonly spot: number;
  /** The index of the move; the number of moves for the goal. */
  readonly at: number;
}

/** Spots whose reach is remembered. */
const MOST_KNOWN = 500;

/** Where rows with one landing only lead from a spot, for sure. */
export class SureWays {
  private readonly graph: LogGraph;
  private readonly known = new Map<number, Int32Array>();

  constructor(private readonly log: Log) {
    const all = graphOf(log);
    const landings = new Map<string, number>();
    const eachRow = (take: (spot: number, row: number) => void): void => {
      for (let spot = 0; spot < all.spots; spot++) {
        for (let row = all.head[spot] ?? 0; row < (all.head[spot + 1] ?? 0); row++) take(spot, row);
      }
    };
    const key = (spot: number, row: number): string => `${spot} ${all.stretch[row] ?? 0}`;
    eachRow((spot, row) => landings.set(key(spot, row), (landings.get(key(spot, row)) ?? 0) + 1));
    const head = new Int32Array(all.spots + 1);
    const rows: number[] = [];
    eachRow((spot, row) => {
      if (landings.get(key(spot, row)) === 1) rows.push(row);
      head[spot + 1] = rows.length;
    });
    for (let spot = 0; spot < all.spots; spot++) {
      head[spot + 1] = Math.max(head[spot + 1] ?? 0, head[spot] ?? 0);
    }
    this.graph = {
      spots: all.spots,
      head,
      to: Int32Array.from(rows, (row) => all.to[row] ?? 0),
      stretch: Int32Array.from(rows, (row) => all.stretch[row] ?? 0),
      sightings: Float64Array.from(rows, (row) => all.sightings[row] ?? 0),
    };
  }

  lead(from: number, to: number): boolean {
    if (from === to || this.log.paused[from] === true) return false;
    let steps = this.known.get(from);
    if (steps === undefined) {
      steps = stepsFrom(this.graph, from);
      if (this.known.size < MOST_KNOWN) this.known.set(from, steps);
    }
    return (steps[to] ?? -1) > 0;
  }
}

/**
 * The spots of a path that can be claimed for a rescue: where it starts, if that is one spot;
 * where it looks, before and after; and its goal.
 */
export function rejoinsOf(
  starts: readonly number[],
  edges: readonly Edge[],
  goal: number,
): Rejoin[] {
  const found: Rejoin[] = [];
  const add = (spot: number | undefined, at: number): void => {
    if (spot !== undefined && !found.some((each) => each.spot === spot)) found.push({ spot, at });
  };
  if (starts.length === 1) add(starts[0], 0);
  edges.forEach(({ move }, i) => {
    if (move.looks === undefined) return;
    add(move.looks.from, i);
    add(move.looks.spot, i + 1);
  });
  add(goal, edges.length);
  return found;
}
