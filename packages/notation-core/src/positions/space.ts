import type { Effort, Efforts } from './effort.js';
import type { LogGraph } from './graph.js';
import type { Grounds } from './ground.js';
import type { Log } from './log.js';
import { type Member, Reading, type ReadingOptions } from './members.js';
import { saidBy } from './token-steps.js';
import { type Next, untilMoves } from './until.js';

/** How plans are ordered: by the first measure, then by the second. */
export type Measure = 'ticks' | 'presses';

/** One step of a plan: items, and how they are played. */
export interface Move {
  readonly ids: readonly number[];
  readonly effort: Effort;
  /** Play the items at least `least` times, then until the player stands at the spot. */
  readonly until: { readonly least: number; readonly times: number; readonly spot: number } | undefined;
  /** Where the player looks: they go on from `spot`; from the others rescues lead back. */
  readonly looks: Looks | undefined;
} // prettier-ignore

export interface Looks {
  /** The spot in front of the move, if that is certain. */
  readonly from: number | undefined;
  readonly spot: number;
  readonly others: readonly number[];
}

export interface Edge {
  readonly to: State;
  readonly cost: number;
  readonly move: Move;
}

/**
 * What is known of the character at one time: the places it can be at, the nominal one
 * first. Equal knowledge is one object.
 */
export interface State {
  readonly id: number;
  /** The same for states that differ only in the gap behind what was played last. */
  readonly where: string;
  readonly members: readonly Member[];
  readonly ends: readonly number[];
  /** What was played last, as far as the gap behind it depends on it. */
  readonly last: Effort | undefined;
  edges: readonly Edge[] | undefined;
}

export interface SpaceOptions extends ReadingOptions {
  readonly by: Measure;
  /**
   * Whether a rescue from a spot can lead back to the spot in front of the move, or elsewhere
   * on the way; undefined: no looking.
   */
  readonly rescued: ((spot: number, before: number | undefined) => boolean) | undefined;
}

type Advancer = (member: Member) => readonly Member[] | undefined;

/** More of the second measure than this in one plan does not count. */
export const MINOR = 2 ** 13;

/**
 * The states that plans lead through, made as they are met. A move is a stretch of the log
 * that says of every member where it leads.
 */
export class Space {
  readonly reading: Reading;
  readonly states: State[] = [];
  /** Whether any spot has words by which the player knows it. */
  readonly hasCues: boolean;
  private readonly known = new Map<string, State>();
  private readonly advancers = new Map<readonly number[], Map<number, Advancer>>();
  private readonly maps = new Map<number, Next>();

  constructor(
    readonly log: Log,
    readonly grounds: Grounds,
    readonly graph: LogGraph,
    readonly efforts: Efforts,
    /** Moves over open ground from a spot to others. */
    private readonly across: ReadonlyMap<number, readonly { to: number; ids: readonly number[] }[]>,
    readonly options: SpaceOptions,
  ) {
    this.reading = new Reading(log, grounds, efforts.between, options);
    this.hasCues = [...log.scope.spots.keys()].some((name) => this.cue(log.spot(name)) !== '');
  }

  /** The map of a stretch, made once. */
  mapOf(stretch: number, make: () => Next): Next {
    let map = this.maps.get(stretch);
    if (map === undefined) {
      map = make();
      this.maps.set(stretch, map);
    }
    return map;
  }

  start(spots: readonly number[]): State {
    const members = spots.map((place) => ({ place, tail: [] }));
    return this.state(members, undefined);
  }

  private state(members: readonly Member[], last: Effort | undefined): State {
    const [first, ...rest] = members;
    const keys = rest.map(keyOf).sort();
    const ending = last === undefined ? '' : `${last.intoPause} ${last.waitsLast}`;
    // Only stretches alike in the gap behind them may be confused.
    const gap = last === undefined ? '' : `${last.gap} ${last.settleGap}`;
    const where = `${first === undefined ? '' : keyOf(first)}|${keys.join('|')}`;
    const key = `${where}|${ending}|${gap}`;
    let state = this.known.get(key);
    if (state === undefined) {
      const ends = new Set<number>();
      for (const member of members) for (const end of this.reading.ends(member)) ends.add(end);
      const id = this.states.length;
      state = { id, where, members, ends: [...ends], last, edges: undefined };
      this.states.push(state);
      this.known.set(key, state);
    }
    return state;
  }

  /** All moves from a state, worked out once. */
  edges(state: State): readonly Edge[] {
    state.edges ??= this.makeEdges(state);
    return state.edges;
  }

  /** What a move costs behind a state. */
  private cost(last: Effort | undefined, effort: Effort, times: number): number {
    const gap = last === undefined ? 0 : this.efforts.gapBetween(last, effort);
    const again = times > 1 ? (times - 1) * (effort.ticks + this.efforts.gapBetween(effort, effort)) : 0; // prettier-ignore
    const ticks = gap + effort.ticks + again;
    const presses = effort.presses * times;
    return this.options.by === 'ticks' ? ticks * MINOR + presses : presses * MINOR * MINOR + ticks;
  }

  private makeEdges(state: State): Edge[] {
    const edges: Edge[] = [];
    const { log, graph, efforts } = this;
    const paused = log.paused[state.ends[0] ?? 0] === true;
    if (state.ends.some((end) => (log.paused[end] === true) !== paused)) return edges;
    const tried = new Set<number>();
    for (const end of state.ends) {
      const last = graph.head[end + 1] ?? 0;
      for (let row = graph.head[end] ?? 0; row < last; row++) {
        const stretch = graph.stretch[row] ?? 0;
        if (tried.has(stretch)) continue;
        tried.add(stretch);
        const ids = log.stretches[stretch]?.ids ?? [];
        this.tryMove(state, ids, efforts.of(ids, paused), edges);
      }
    }
    if (state.ends.length === 1) {
      for (const { to, ids } of this.across.get(state.ends[0] ?? -1) ?? []) {
        this.tryMove(state, ids, efforts.of(ids, false), edges, to);
      }
    } else if (!paused) {
      for (const { ids, least, times, spot } of untilMoves(state.ends, tried, this)) {
        const effort = efforts.of(ids, false);
        const to = this.state([{ place: spot, tail: [] }], effort);
        const move: Move = { ids, effort, until: { least, times, spot }, looks: undefined };
        edges.push({ to, cost: this.cost(state.last, effort, times), move });
      }
    }
    return edges;
  }

  private tryMove(
    state: State,
    ids: readonly number[],
    effort: Effort,
    edges: Edge[],
    only?: number,
  ): void {
    const ends = this.pausedAfter(ids, this.log.paused[state.ends[0] ?? 0] === true);
    if (ends === undefined) return;
    const gap = state.last === undefined ? [] : this.efforts.between.ids(state.last, effort);
    const advance = this.advancer(gap, ids);
    const members: Member[] = [];
    const keys = new Set<string>();
    for (const member of state.members) {
      const next = advance(member);
      if (next === undefined) return;
      for (const each of next) {
        const key = keyOf(each);
        if (!keys.has(key)) members.push(each);
        keys.add(key);
      }
    }
    const to = this.state(members, effort);
    if (to.ends.some((end) => (this.log.paused[end] === true) !== ends)) return;
    if (only !== undefined && (to.ends.length > 1 || to.ends[0] !== only)) return;
    const cost = this.cost(state.last, effort, 1);
    edges.push({ to, cost, move: { ids, effort, until: undefined, looks: undefined } });
    const { rescued } = this.options;
    const [spot, ...others] = to.ends;
    if (rescued === undefined || spot === undefined || others.length === 0) return;
    const from = state.ends.length === 1 ? state.ends[0] : undefined;
    if (!this.tellsApart(to.ends) || !others.every((other) => rescued(other, from))) return;
    const seen = this.state([{ place: spot, tail: [] }], effort);
    edges.push({
      to: seen,
      cost,
      move: { ids, effort, until: undefined, looks: { from, spot, others } },
    });
  }

  /** Where a gap and items lead, worked out once for each place. */
  private advancer(gap: readonly number[], ids: readonly number[]): Advancer {
    let byGap = this.advancers.get(ids);
    if (byGap === undefined) this.advancers.set(ids, (byGap = new Map<number, Advancer>()));
    let advance = byGap.get(gap[0] ?? -1);
    if (advance === undefined) {
      const more = gap.length === 0 ? ids : [...gap, ...ids];
      const known = new Map<number, readonly Member[] | undefined>();
      advance = (member) => {
        if (member.tail.length > 0) return this.reading.advance(member, more);
        const { place } = member;
        if (known.has(place)) return known.get(place);
        const found = this.reading.advance(member, more);
        known.set(place, found);
        return found;
      };
      byGap.set(gap[0] ?? -1, advance);
    }
    return advance;
  }

  /** Whether items end inside a pause; undefined where they cannot be played from there. */
  private pausedAfter(ids: readonly number[], before: boolean): boolean | undefined {
    const { tokens } = this.log;
    let paused = before;
    for (const id of ids) {
      const { kind } = saidBy(tokens, id);
      if (kind === 'hold' || kind === 'end') continue;
      if ((kind === 'close' || kind === 'window') !== paused) return undefined;
      if (kind === 'open') paused = true;
      if (kind === 'close') paused = false;
    }
    return paused;
  }

  /** The words by which the player knows a spot, or ''. */
  cue(spot: number): string {
    return this.log.scope.spots.get(this.log.name(spot))?.declaration.cue?.value ?? '';
  }

  /** Whether each of the spots has a cue of its own. */
  tellsApart(spots: readonly number[]): boolean {
    const cues = new Set(spots.map((spot) => this.cue(spot)));
    return cues.size === spots.length && !cues.has('');
  }
}

function keyOf({ place, tail }: Member): string {
  return tail.length === 0 ? String(place) : `${place}:${tail.join(' ')}`;
}
