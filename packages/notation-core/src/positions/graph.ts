import type { Log, Outcome } from './log.js';

/**
 * The log as a graph in typed arrays: the rows of spot s are `head[s]` up to `head[s + 1]`,
 * each one landing of one stretch of items (compressed sparse rows).
 */
export interface LogGraph {
  readonly spots: number;
  readonly head: Int32Array;
  readonly to: Int32Array;
  /** The stretch of each row: an index into `Log.stretches`. */
  readonly stretch: Int32Array;
  readonly sightings: Float64Array;
}

export interface GraphOptions {
  /** Only the most sighted landing of each stretch from each spot. */
  readonly likely?: boolean;
  /** Only stretches all of whose landings (that count) were seen so often at least. */
  readonly least?: number;
}

export function graphOf(log: Log, { likely = false, least = 0 }: GraphOptions = {}): LogGraph {
  const { from, node, stretch } = log.entries;
  const spots = log.names.length;
  const head = new Int32Array(spots + 1);
  const counted = (outcomes: readonly Outcome[] | undefined): readonly Outcome[] => {
    const all = outcomes ?? [];
    const taken = likely ? likeliest(all) : all;
    return least > 0 && taken.some(({ count }) => count < least) ? [] : taken;
  };
  let rows = 0;
  for (let i = 0; i < from.length; i++) {
    const count = counted(log.outcomes[node[i] ?? 0]).length;
    const at = (from[i] ?? 0) + 1;
    head[at] = (head[at] ?? 0) + count;
    rows += count;
  }
  for (let s = 0; s < spots; s++) head[s + 1] = (head[s + 1] ?? 0) + (head[s] ?? 0);
  const next = head.slice();
  const graph: LogGraph = {
    spots,
    head,
    to: new Int32Array(rows),
    stretch: new Int32Array(rows),
    sightings: new Float64Array(rows),
  };
  for (let i = 0; i < from.length; i++) {
    const spot = from[i] ?? 0;
    for (const outcome of counted(log.outcomes[node[i] ?? 0])) {
      const at = next[spot] ?? 0;
      next[spot] = at + 1;
      graph.to[at] = outcome.to;
      graph.stretch[at] = stretch[i] ?? 0;
      graph.sightings[at] = outcome.count;
    }
  }
  return graph;
}

/** The most sighted outcome, the first of equals, as a list of one. */
export function likeliest(outcomes: readonly Outcome[]): readonly Outcome[] {
  if (outcomes.length < 2) return outcomes;
  let best = outcomes[0];
  for (const each of outcomes) if (best !== undefined && each.count > best.count) best = each;
  return best === undefined ? [] : [best];
}

/** The same rows from their landings back: row r of the result leads from `to` to `from`. */
export function reversed(graph: LogGraph): LogGraph {
  const { spots, head, to } = graph;
  const rows = to.length;
  const back = new Int32Array(spots + 1);
  for (let r = 0; r < rows; r++) {
    const at = (to[r] ?? 0) + 1;
    back[at] = (back[at] ?? 0) + 1;
  }
  for (let s = 0; s < spots; s++) back[s + 1] = (back[s + 1] ?? 0) + (back[s] ?? 0);
  const next = back.slice();
  const from = new Int32Array(rows);
  const stretch = new Int32Array(rows);
  const sightings = new Float64Array(rows);
  for (let s = 0; s < spots; s++) {
    for (let r = head[s] ?? 0; r < (head[s + 1] ?? 0); r++) {
      const spot = to[r] ?? 0;
      const at = next[spot] ?? 0;
      next[spot] = at + 1;
      from[at] = s;
      stretch[at] = graph.stretch[r] ?? 0;
      sightings[at] = graph.sightings[r] ?? 0;
    }
  }
  return { spots, head: back, to: from, stretch, sightings };
}
