import type { Scope } from '../model/scope.js';
import { type Across, boundsTo } from './bounds.js';
import { knownOf } from './context.js';
import { Efforts } from './effort.js';
import { graphOf, type LogGraph, likeliest } from './graph.js';
import { type GroundEnd, GroundSearch } from './groundsearch.js';
import type { Vector } from './lattice.js';
import { type Plan, type PlanRescue, itemsOf, prove } from './plan.js';
import { Writer } from './render.js';
import { type Rejoin, SureWays, rejoinsOf } from './rescues.js';
import { type Path, Search } from './search.js';
import { MINOR, type Measure, Space, type State } from './space.js';

/** What plans are ordered by; of equals the one with fewer ticks is better. */
export type Ranking = Measure | 'sightings';

export interface FindQuery {
  /** Spots by their numbers in the log; a plan has to work from every one. */
  readonly from: readonly number[];
  readonly to: Target;
  readonly by: Ranking;
  /** How many plans are wanted. */
  readonly best: number;
  /** Take the most sighted landing of each row, as the checker does, for the only one. */
  readonly likely: boolean;
}

export type Target =
  | { readonly kind: 'spot'; readonly spot: number }
  /** All points between two corners, in whole units of the grounds; equal for one point. */
  | { readonly kind: 'window'; readonly low: Vector; readonly high: Vector };

/** How plans that are not one for all starts are told apart. */
export interface Group {
  readonly starts: readonly number[];
  readonly plans: Plan[];
}

/** What the searches have come to; readable at any time, also when they were stopped. */
export interface Findings {
  /** One group, unless a cue tells starts apart that no single plan serves. */
  groups: Group[];
  /** Whether the search came to its end: there are no better plans, and no more if fewer. */
  exhausted: boolean;
  /** No plan still to come is better, in the unit of the ranking; undefined where not known. */
  bound: number | undefined;
  explored: number;
  /** Plans stand on the most sighted landings, since none is sure. */
  isFallback: boolean;
  /** What the grounds said where no plan was found. */
  ground: GroundEnd['why'];
  /** Plans that did not hold when they were followed; none is expected. */
  dropped: number;
}

/** How a spot off the course leads back to it. */
interface Rescue {
  readonly spot: number;
  readonly plan: Plan;
  readonly rejoin: Rejoin;
}

/** Points of a window at most. */
export const MOST_POINTS = 1_000_000;
/** Spots on grounds between which courses are worked out. */
const MOST_ON_GROUND = 80;

/**
 * Finds plans. `run` is a generator that yields every few thousand steps, so that whoever
 * drives it can show how it stands, or stop; what is found is in `findings` all along.
 */
export class Finder {
  readonly findings: Findings = {
    groups: [],
    exhausted: false,
    bound: undefined,
    explored: 0,
    isFallback: false,
    ground: undefined,
    dropped: 0,
  };
  private readonly efforts: Efforts;
  private readonly writer: Writer;
  private readonly by: Measure;

  constructor(
    private readonly scope: Scope,
    private readonly query: FindQuery,
  ) {
    const { log, resolver } = knownOf(scope);
    this.efforts = new Efforts(log.tokens, scope);
    this.writer = new Writer(log.tokens, scope, resolver);
    this.by = query.by === 'presses' ? 'presses' : 'ticks';
  }

  *run(): Generator<undefined, void> {
    const { query, findings } = this;
    const sure = { likely: query.likely, least: 0 };
    const whole: Group = { starts: query.from, plans: [] };
    findings.groups = [whole];
    yield* this.ranked(whole, sure, false);
    if (whole.plans.length === 0 && !query.likely) yield* this.apart(whole);
    if (findings.groups.every(({ plans }) => plans.length === 0) && !query.likely) {
      if (this.isUncertain()) {
        findings.isFallback = true;
        findings.groups = [whole];
        yield* this.ranked(whole, { likely: true, least: 0 }, false);
        if (whole.plans.length === 0) findings.isFallback = false;
      }
    }
    findings.exhausted = findings.dropped === 0 && !this.isCut;
  }

  /** Whether a ground search gave up before its end. */
  private isCut = false;

  private isUncertain(): boolean {
    return knownOf(this.scope).log.outcomes.some((each) => each !== undefined && each.length > 1);
  }

  /** Plans by what the player sees: of starts told apart by cues, and of landings. */
  private *apart(whole: Group): Generator<undefined, void> {
    const { findings } = this;
    yield* this.ranked(whole, { likely: false, least: 0 }, true);
    if (whole.plans.length > 0 || whole.starts.length < 2) return;
    const byCue = new Map<string, number[]>();
    for (const start of whole.starts) {
      const cue = this.cueOf(start);
      const same = byCue.get(cue);
      if (same === undefined) byCue.set(cue, [start]);
      else same.push(start);
    }
    // Starts without a cue could be taken for any other.
    if (byCue.size < 2 || byCue.has('')) return;
    const groups = [...byCue.values()].map((starts): Group => ({ starts, plans: [] }));
    findings.groups = groups;
    for (const group of groups) {
      yield* this.ranked(group, { likely: false, least: 0 }, false);
      if (group.plans.length === 0) yield* this.ranked(group, { likely: false, least: 0 }, true);
    }
    if (groups.some(({ plans }) => plans.length === 0)) findings.groups = [whole];
  }

  private cueOf(spot: number): string {
    const { log } = knownOf(this.scope);
    return this.scope.spots.get(log.name(spot))?.declaration.cue?.value ?? '';
  }

  /** Plans in the order asked for; by sightings: first those that stand on the most seen rows. */
  private *ranked(
    group: Group,
    reading: { likely: boolean; least: number },
    looking: boolean,
  ): Generator<undefined, void> {
    if (this.query.by !== 'sightings') {
      yield* this.search(group, reading, looking);
      return;
    }
    const { log } = knownOf(this.scope);
    const levels = new Set<number>();
    for (const outcomes of log.outcomes) {
      if (outcomes === undefined || outcomes.length === 0) continue;
      const taken = reading.likely ? likeliest(outcomes) : outcomes;
      levels.add(Math.min(...taken.map(({ count }) => count)));
    }
    for (const least of [Infinity, ...[...levels].sort((a, b) => b - a)]) {
      if (least < Infinity) this.findings.bound = least;
      yield* this.search(group, { ...reading, least }, looking);
      if (group.plans.length >= this.query.best) break;
    }
    const rank = ({ sightings }: Plan): number => Math.min(sightings, Number.MAX_SAFE_INTEGER);
    group.plans.sort((a, b) => rank(b) - rank(a) || a.ticks - b.ticks);
  }

  private *search(
    group: Group,
    reading: { likely: boolean; least: number },
    looking: boolean,
  ): Generator<undefined, void> {
    const { scope, query, findings, efforts, by } = this;
    const { log, grounds } = knownOf(scope);
    const graph = graphOf(log, reading);
    const across = yield* this.across(group.starts, graph);
    const { to } = query;
    const size = log.names.length;
    const whole = graph.spots === size ? graph : graphOf(log, reading);
    const zero = { bound: 0 };
    const bound =
      to.kind === 'spot' ? boundsTo(to.spot, log, whole, efforts, across, by) : () => zero.bound;
    const rescued = looking && to.kind === 'spot' ? this.rescuer(to.spot, group.starts) : undefined;
    const space = new Space(log, grounds, whole, efforts, across, { ...reading, by, rescued });
    const isGoal = (state: State): boolean =>
      to.kind === 'spot'
        ? state.ends.length === 1 && state.ends[0] === to.spot
        : state.ends.every((end) => within(grounds.coordinates(end), to));
    const search = new Search(space, space.start(group.starts), isGoal, bound);
    const scale = by === 'ticks' ? MINOR : MINOR * MINOR;
    for (const path of search.paths()) {
      findings.explored = search.standing.explored;
      if (query.by !== 'sightings') findings.bound = Math.floor(search.standing.bound / scale);
      if (path === undefined) yield undefined;
      else {
        yield* this.take(group, path, reading.likely);
        if (group.plans.length >= query.best) break;
      }
    }
    if (query.by !== 'sightings') this.sort(group);
  }

  private sort(group: Group): void {
    const { by } = this;
    const [first, second] = by === 'ticks' ? (['ticks', 'presses'] as const) : (['presses', 'ticks'] as const); // prettier-ignore
    group.plans.sort((a, b) => a[first] - b[first] || a[second] - b[second]);
  }

  private *take(group: Group, path: Path, likely: boolean): Generator<undefined, void> {
    if (doesMore(path)) return;
    const plan = yield* this.planOf(group.starts, path, likely);
    if (plan === undefined) this.findings.dropped++;
    else if (!group.plans.some((known) => known.sequence === plan.sequence)) group.plans.push(plan);
  }

  /** A path as text, read back and followed. */
  private *planOf(
    starts: readonly number[],
    path: Path,
    likely: boolean,
  ): Generator<undefined, Plan | undefined> {
    const { scope, query, efforts, writer } = this;
    const known = knownOf(scope);
    const { log, grounds } = known;
    const end = path.edges[path.edges.length - 1]?.to.ends[0];
    if (end === undefined) return undefined;
    const startsPaused = log.paused[starts[0] ?? -1] === true;
    const endsPaused = log.paused[end] === true;
    const rescues = yield* this.rescuesOf(starts, path, end);
    if (rescues === undefined) return undefined;
    const claims = new Map(path.edges.flatMap(({ move }, i) => (move.looks === undefined ? [] : [[i + 1, move.looks.spot] as const]))); // prettier-ignore
    for (const { at, spot } of rescues.map(({ rejoin }) => rejoin)) claims.set(at, spot);
    const items = itemsOf(path.edges, known, writer, efforts.between, startsPaused, endsPaused, claims); // prettier-ignore
    const names = starts.map((start) => log.name(start));
    const sequence = items.join(' ');
    const proof = prove(sequence, names, scope, known, {
      likely,
      startsPaused,
      endsPaused,
      isRescued: rescues.length > 0,
    });
    if (proof === undefined) return undefined;
    const { to } = query;
    const lands = (place: number): boolean =>
      to.kind === 'spot' ? place === to.spot : within(grounds.coordinates(place), to);
    if (!proof.ends.every(lands)) return undefined;
    return {
      sequence,
      items,
      starts: names,
      goal: log.name(end),
      ticks: proof.ticks,
      presses: proof.presses,
      sightings: Math.min(proof.sightings, ...rescues.map(({ plan }) => plan.sightings)),
      isSure: !likely || !this.isUncertain(),
      rescues: rescues.map(({ spot, plan, rejoin }): PlanRescue => ({
        spot: log.name(spot),
        sequence: plan.sequence,
        to: log.name(rejoin.spot),
      })),
      startsPaused,
      endsPaused,
    };
  }

  private rescuer(goal: number, starts: readonly number[]) {
    const ways = this.sureWays();
    const only = starts.length === 1 ? starts[0] : undefined;
    return (spot: number, before: number | undefined): boolean =>
      [goal, only, before].some((to) => to !== undefined && ways.lead(spot, to));
  }

  private sureWays(): SureWays {
    this.sure ??= new SureWays(knownOf(this.scope).log);
    return this.sure;
  }

  private sure: SureWays | undefined;

  /** For each spot that a path is rescued from, the way back that is best for the whole. */
  private *rescuesOf(
    starts: readonly number[],
    path: Path,
    goal: number,
  ): Generator<undefined, Rescue[] | undefined> {
    const others = new Set(path.edges.flatMap(({ move }) => move.looks?.others ?? []));
    const rescues: Rescue[] = [];
    if (others.size === 0) return rescues;
    const { scope, query, by } = this;
    const passed = new Set([...starts, ...path.edges.flatMap(({ to }) => to.ends)]);
    for (const spot of others) {
      // The player must not take a spot of the course for it.
      const cue = this.cueOf(spot);
      if ([...passed].some((each) => each !== spot && this.cueOf(each) === cue)) return undefined;
      let best: (Rescue & { worth: number }) | undefined;
      for (const rejoin of rejoinsOf(starts, path.edges, goal)) {
        if (!this.sureWays().lead(spot, rejoin.spot)) continue;
        const to: Target = { kind: 'spot', spot: rejoin.spot };
        const alone = new Finder(scope, { ...query, from: [spot], to, best: 1 });
        const group: Group = { starts: [spot], plans: [] };
        yield* alone.ranked(group, { likely: false, least: 0 }, false);
        const [plan] = group.plans;
        if (plan === undefined) continue;
        const left = path.edges.slice(rejoin.at).reduce((sum, { cost }) => sum + cost, 0);
        const worth = plan[by] + left / (by === 'ticks' ? MINOR : MINOR * MINOR);
        if (best === undefined || worth < best.worth) best = { spot, plan, rejoin, worth };
      }
      if (best === undefined) return undefined;
      rescues.push(best);
    }
    return rescues;
  }

  /** Courses over open ground between spots, and to a target that is none. */
  private *across(
    starts: readonly number[],
    graph: LogGraph,
  ): Generator<undefined, Map<number, Across[]>> {
    const { scope, query, efforts, by } = this;
    const { log, grounds } = knownOf(scope);
    const across = new Map<number, Across[]>();
    if (grounds.grounds.length === 0) return across;
    const { to } = query;
    const departures = new Set(starts.filter((spot) => grounds.ground(spot) !== undefined));
    const arrivals = new Set<number>(to.kind === 'spot' ? [to.spot] : []);
    for (let spot = 0; spot < graph.spots && arrivals.size < MOST_ON_GROUND; spot++) {
      const isNamed = !log.name(spot).startsWith('(');
      if (isNamed && grounds.coordinates(spot) !== undefined && log.paused[spot] !== true) {
        if (log.root(spot) >= 0) arrivals.add(spot);
        if (grounds.ground(spot) !== undefined) departures.add(spot);
      }
    }
    for (const spot of departures) {
      const ground = grounds.ground(spot);
      const at = grounds.coordinates(spot);
      if (ground === undefined || at === undefined) continue;
      const search = new GroundSearch(ground, grounds, log, efforts, by, at.length);
      const list: Across[] = [];
      const isStart = starts.includes(spot);
      const add = (toSpot: number, ids: readonly number[]): void => {
        list.push({ to: toSpot, ids });
      };
      for (const arrival of arrivals) {
        const point = grounds.coordinates(arrival);
        if (arrival === spot || point?.length !== at.length) continue;
        const isDirect = isStart && to.kind === 'spot' && arrival === to.spot;
        const most = isDirect ? query.best : 1;
        const end = yield* drain(search.courses(at, [point]), most, (ids) => add(arrival, ids));
        this.note(end, isDirect);
      }
      if (to.kind === 'window') {
        const points = to.low.length === at.length ? pointsOf(to) : [];
        const end = yield* drain(search.courses(at, points), query.best, (ids, point) =>
          add(grounds.placeAt(point, ground).place, ids),
        );
        this.note(end, isStart);
      }
      if (list.length > 0) across.set(spot, list);
    }
    return across;
  }

  private note(end: GroundEnd | undefined, counts: boolean): void {
    if (end === undefined) return;
    if (counts) this.findings.ground ??= end.why;
    if (!end.exhausted) this.isCut = true;
  }
}

/** The end of a generator of courses, or undefined where enough came before it. */
function* drain(
  courses: ReturnType<GroundSearch['courses']>,
  most: number,
  take: (ids: readonly number[], to: Vector) => void,
): Generator<undefined, GroundEnd | undefined> {
  for (let given = 0; ;) {
    const next = courses.next();
    if (next.done === true) return next.value;
    if (next.value === undefined) yield undefined;
    else {
      take(next.value.ids, next.value.to);
      if (++given >= most) return undefined;
    }
  }
}

/** Whether a path plays items once more in front of an `until` that repeats them anyway. */
function doesMore({ edges }: Path): boolean {
  return edges.some(({ move }, i) => {
    const before = edges[i - 1]?.move;
    return move.until !== undefined && before?.until === undefined && before?.ids === move.ids;
  });
}

function within(at: Vector | undefined, window: { low: Vector; high: Vector }): boolean {
  if (at?.length !== window.low.length) return false;
  return at.every((x, axis) => x >= (window.low[axis] ?? x) && x <= (window.high[axis] ?? x));
}

/** How many points a window has. */
export function sizeOf({ low, high }: { low: Vector; high: Vector }): number {
  return low.reduce((product, x, axis) => product * ((high[axis] ?? x) - x + 1), 1);
}

function pointsOf(window: { low: Vector; high: Vector }): Vector[] {
  let points: Vector[] = [[]];
  window.low.forEach((least, axis) => {
    const most = window.high[axis] ?? least;
    const next: Vector[] = [];
    for (const point of points) for (let x = least; x <= most; x++) next.push([...point, x]);
    points = next;
  });
  return points;
}
