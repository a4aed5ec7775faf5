import type { Bound } from './bounds.js';
import { Heap } from './heap.js';
import type { Edge, Space, State } from './space.js';

/** A way from the start to the goal. */
export interface Path {
  readonly cost: number;
  readonly edges: readonly Edge[];
}

/** What a search says of itself while it goes on. */
export interface Standing {
  /** States looked at so far. */
  readonly explored: number;
  /** No plan that is still to come costs less. */
  readonly bound: number;
}

/** States looked at between two words about it. */
const BREATH = 128;

/**
 * The ways from the start to the goal, the cheapest first, each without coming back to where
 * it has been: the loopless paths of Yen (Management Science 17 (1971) 712) with Lawler's
 * bookkeeping (18 (1972) 401), each piece found by A* (Hart, Nilsson, Raphael, IEEE TSSC 4
 * (1968) 100). A generator: it yields undefined or a path every so often, so that whoever
 * drives it can stop.
 */
export class Search {
  readonly standing = { explored: 0, bound: 0 };

  constructor(
    private readonly space: Space,
    private readonly start: State,
    private readonly isGoal: (state: State) => boolean,
    private readonly bound: Bound,
  ) {}

  *paths(): Generator<Path | undefined, void> {
    const first = yield* this.cheapest(this.start, 0, new Set(), new Set());
    if (first === undefined) return;
    const found: { path: Path; from: number }[] = [];
    const waiting: { path: Path; from: number }[] = [{ path: first, from: 0 }];
    const seen = new Set<string>([nameOf(first)]);
    for (;;) {
      let best = 0;
      for (let i = 1; i < waiting.length; i++) {
        if ((waiting[i]?.path.cost ?? 0) < (waiting[best]?.path.cost ?? 0)) best = i;
      }
      const [next] = waiting.splice(best, 1);
      if (next === undefined) return;
      found.push(next);
      this.standing.bound = next.path.cost;
      yield next.path;
      yield* this.deviations(next, found, waiting, seen);
    }
  }

  private *deviations(
    { path, from }: { path: Path; from: number },
    found: readonly { path: Path }[],
    waiting: { path: Path; from: number }[],
    seen: Set<string>,
  ): Generator<undefined, void> {
    const { edges } = path;
    let rootCost = 0;
    let spur = this.start;
    const passed = new Set<string>();
    for (let i = 0; i < edges.length; i++) {
      const edge = edges[i];
      if (edge === undefined) break;
      if (i >= from) {
        const banned = new Set<Edge>();
        for (const other of found) {
          if (other.path.edges.length <= i) continue;
          let same = true;
          for (let k = 0; k < i && same; k++) same = other.path.edges[k] === edges[k];
          const away = other.path.edges[i];
          if (same && away !== undefined) banned.add(away);
        }
        const rest = yield* this.cheapest(spur, rootCost, banned, passed);
        if (rest !== undefined) {
          const whole = { cost: rest.cost, edges: [...edges.slice(0, i), ...rest.edges] };
          const name = nameOf(whole);
          if (!seen.has(name)) {
            seen.add(name);
            waiting.push({ path: whole, from: i });
          }
        }
      }
      passed.add(spur.where);
      rootCost += edge.cost;
      spur = edge.to;
    }
  }

  private *cheapest(
    start: State,
    before: number,
    banned: ReadonlySet<Edge>,
    passed: ReadonlySet<string>,
  ): Generator<undefined, Path | undefined> {
    const { space, standing } = this;
    const first = this.bound(start);
    if (first === Infinity) return undefined;
    const costs = new Map<number, number>([[start.id, before]]);
    const came = new Map<number, { edge: Edge; from: State }>();
    const heap = new Heap();
    heap.push(start.id, before + first);
    const least = standing.bound;
    for (let id = heap.pop(); id >= 0; id = heap.pop()) {
      const state = space.states[id];
      if (state === undefined) continue;
      const cost = costs.get(id) ?? 0;
      // A cheaper way to the state was found since.
      if (cost + this.bound(state) < heap.lastKey) continue;
      if (before === 0 && banned.size === 0) standing.bound = Math.max(least, heap.lastKey);
      if (this.isGoal(state)) return { cost, edges: way(start, state, came) };
      if (++standing.explored % BREATH === 0) yield undefined;
      for (const edge of space.edges(state)) {
        if (state === start && banned.has(edge)) continue;
        const { to } = edge;
        if (to.where === start.where || passed.has(to.where)) continue;
        const sum = cost + edge.cost;
        if (sum >= (costs.get(to.id) ?? Infinity)) continue;
        const left = this.bound(to);
        if (left === Infinity) continue;
        costs.set(to.id, sum);
        came.set(to.id, { edge, from: state });
        heap.push(to.id, sum + left, -sum);
      }
    }
    return undefined;
  }
}

function way(
  start: State,
  end: State,
  came: ReadonlyMap<number, { edge: Edge; from: State }>,
): Edge[] {
  const edges: Edge[] = [];
  for (let state = end; state !== start;) {
    const step = came.get(state.id);
    if (step === undefined) break;
    edges.push(step.edge);
    state = step.from;
  }
  return edges.reverse();
}

/** Equal for paths of the same moves. */
function nameOf({ edges }: Path): string {
  return edges
    .map(({ to, move }) => {
      const until = move.until === undefined ? '' : `+${move.until.least}@${move.until.spot}`;
      return `${move.ids.join(' ')}${until}${move.looks === undefined ? '' : '?'}>${to.id}`;
    })
    .join('|');
}
