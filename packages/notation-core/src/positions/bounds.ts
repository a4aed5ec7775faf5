import { costsFrom } from './distances.js';
import type { Effort, Efforts } from './effort.js';
import { type LogGraph, reversed } from './graph.js';
import type { Log } from './log.js';
import { MINOR, type Measure, type State } from './space.js';

/** Never more than a plan still costs from a state; Infinity where none leads to the goal. */
export type Bound = (state: State) => number;

/** A move over open ground from a spot to another. */
export interface Across {
  readonly to: number;
  readonly ids: readonly number[];
}

/**
 * Bounds by the distance of each spot from the goal, any landing of a row counting as the
 * one that comes.
 */
export function boundsTo(
  goal: number,
  log: Log,
  graph: LogGraph,
  efforts: Efforts,
  across: ReadonlyMap<number, readonly Across[]>,
  by: Measure,
): Bound {
  const whole = across.size === 0 ? plain(graph) : withAcross(graph, across);
  const back = reversed(whole.graph);
  const weights = new Float64Array(back.to.length);
  const least = gapsCanVanish(log, efforts);
  const weigh = (effort: Effort, atGoal: boolean): number => {
    if (by === 'presses') return effort.presses;
    return effort.ticks + (atGoal || least ? 0 : Math.min(effort.gap, effort.settleGap));
  };
  const effortOf = efforts.byStretch((stretch) => whole.ids(stretch, log));
  for (let spot = 0; spot < back.spots; spot++) {
    const last = back.head[spot + 1] ?? 0;
    for (let row = back.head[spot] ?? 0; row < last; row++) {
      const paused = log.paused[back.to[row] ?? 0] === true;
      weights[row] = weigh(effortOf(back.stretch[row] ?? 0, paused), spot === goal);
    }
  }
  const costs = costsFrom(back, goal, weights);
  const scale = by === 'ticks' ? MINOR : MINOR * MINOR;
  return ({ ends, last }) => {
    let most = 0;
    for (const end of ends) if (costs[end] === Infinity) most = Infinity;
    if (most === Infinity) return most;
    const nominal = ends[0] ?? 0;
    const gap = last === undefined || least || by !== 'ticks' || (ends.length === 1 && nominal === goal) ? 0 : Math.min(last.gap, last.settleGap); // prettier-ignore
    return (gap + (costs[nominal] ?? Infinity)) * scale;
  };
}

/** Whether a wait at an edge of a stretch can take the place of the whole gap. */
function gapsCanVanish(log: Log, efforts: Efforts): boolean {
  if (!efforts.between.anyGap) return false;
  return log.stretches.some(({ ids }) => {
    const { waitsFirst, waitsLast } = efforts.of(ids, false);
    return waitsFirst || waitsLast;
  });
}

interface Whole {
  readonly graph: LogGraph;
  ids(stretch: number, log: Log): readonly number[];
}

function plain(graph: LogGraph): Whole {
  return { graph, ids: (at, log) => log.stretches[at]?.ids ?? [] };
}

function withAcross(graph: LogGraph, across: ReadonlyMap<number, readonly Across[]>): Whole {
  const moves: (readonly number[])[] = [];
  const head = new Int32Array(graph.spots + 1);
  const to: number[] = [];
  const stretch: number[] = [];
  const sightings: number[] = [];
  for (let spot = 0; spot < graph.spots; spot++) {
    for (let row = graph.head[spot] ?? 0; row < (graph.head[spot + 1] ?? 0); row++) {
      to.push(graph.to[row] ?? 0);
      stretch.push(graph.stretch[row] ?? 0);
      sightings.push(graph.sightings[row] ?? 0);
    }
    for (const { to: landing, ids } of across.get(spot) ?? []) {
      to.push(landing);
      stretch.push(-1 - moves.length);
      sightings.push(Infinity);
      moves.push(ids);
    }
    head[spot + 1] = to.length;
  }
  return {
    graph: {
      spots: graph.spots,
      head,
      to: Int32Array.from(to),
      stretch: Int32Array.from(stretch),
      sightings: Float64Array.from(sightings),
    },
    ids: (at, log) => (at < 0 ? moves[-1 - at] : log.stretches[at]?.ids) ?? [],
  };
}
