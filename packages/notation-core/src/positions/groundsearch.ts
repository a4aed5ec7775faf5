import { courseByCells } from './cells.js';
import { gcd } from './cone.js';
import { Combiner, type Counts, type Impossible } from './combine.js';
import type { Efforts } from './effort.js';
import type { Ground, Grounds } from './ground.js';
import type { Log } from './log.js';
import { Heap } from './heap.js';
import type { Vector } from './lattice.js';
import { type Room, isWithin, orderWithin, plus } from './order.js';
import type { Measure } from './space.js';

/** A course over open ground: which moves, in which order. */
export interface Course {
  readonly order: readonly number[];
  /** The tokens of all its moves, with what parts them. */
  readonly ids: readonly number[];
  readonly to: Vector;
}

/** How a search over ground ended. */
export interface GroundEnd {
  /** Whether there is nothing else: all courses that there are were given. */
  readonly exhausted: boolean;
  /** Why there is no course, where none was given and that is proved. */
  readonly why: Impossible | { readonly kind: 'bounds'; readonly reached: number } | undefined;
}

/** Counts that cannot be ordered inside the ground before points are looked at one by one. */
const MOST_FAILURES = 40;
/** Counts with a detour in a row, after which nothing else is expected. */
const MOST_DETOURS = 300;
/** Moves of one course at most. */
const MOST_MOVES = 100_000;
/** The weight of a press above ticks, where plans are ordered by presses. */
const MAJOR = 2 ** 20;

/** All that is asked of one ground and one measure, set up once. */
export class GroundSearch {
  private readonly moves: readonly Vector[];
  private readonly costs: readonly number[];
  private readonly ends: readonly number[];
  private readonly combiner: Combiner;
  private readonly room: Room;

  constructor(
    readonly ground: Ground,
    private readonly grounds: Grounds,
    private readonly log: Log,
    private readonly efforts: Efforts,
    by: Measure,
    axes: number,
  ) {
    const usable = ground.moves.filter((move) => move.by.length === axes);
    this.moves = usable.map((move) => move.by);
    const all = usable.map(({ ids }) => efforts.of(ids, false));
    const weigh = (ticks: number, presses: number): number =>
      by === 'ticks' ? ticks : presses * MAJOR + ticks;
    this.costs = all.map(({ ticks, gap, presses }) => Math.max(1, weigh(ticks + gap, presses)));
    this.ends = all.map(({ gap }) => gap);
    this.ids = usable.map(({ ids }) => ids);
    this.combiner = new Combiner(this.moves, this.costs);
    const { low, high } = ground;
    this.room = {
      low,
      high,
      // Where rows of the log begin, the log and not the ground says what comes next.
      avoid: (at) => {
        const spot = grounds.spotOn(at);
        return spot !== undefined && log.root(spot) >= 0;
      },
      notFirst: new Set(),
    };
  }

  /** Rows of the log from a spot come before moves that begin alike. */
  private roomAt(from: Vector): Room {
    const { log } = this;
    const spot = this.grounds.spotOn(from);
    if (spot === undefined || log.root(spot) < 0) return this.room;
    const notFirst = new Set<number>();
    this.ids.forEach((ids, move) => {
      if (log.child(log.root(spot), ids[0] ?? -1) >= 0) notFirst.add(move);
    });
    return { ...this.room, notFirst };
  }

  private readonly ids: readonly (readonly number[])[];

  /**
   * Courses to any of the points, the cheapest first, one for each set of counts. Yields
   * undefined every so often.
   */
  *courses(from: Vector, points: readonly Vector[]): Generator<Course | undefined, GroundEnd> {
    const room = this.roomAt(from);
    const within = points.filter((point) => this.mayEnd(point));
    let firstReason: GroundEnd['why'];
    let unknown = false;
    let given = 0;
    let failures = 0;
    let unordered = false;
    let detours = 0;
    for (const found of this.allCounts(from, within)) {
      if (found === undefined) {
        yield undefined;
        continue;
      }
      if ('kind' in found) {
        if (found.kind === 'impossible') firstReason ??= found.why;
        else unknown = true;
        continue;
      }
      if (this.hasDetour(found)) {
        if (++detours > MOST_DETOURS) break;
        if (detours % 16 === 0) yield undefined;
        continue;
      }
      detours = 0;
      const goal = found.to.join(' ');
      const avoid = (at: Vector): boolean => room.avoid(at) || at.join(' ') === goal;
      const order = this.orderOf(found, from, { ...room, avoid });
      if (typeof order === 'string') {
        unordered = true;
        if (++failures > MOST_FAILURES) break;
        yield undefined;
        continue;
      }
      given++;
      yield this.course(order, found.to);
    }
    if (given > 0) return { exhausted: !unknown && !unordered, why: undefined };
    if (within.length === 0) return { exhausted: true, why: { kind: 'bounds', reached: 0 } };
    if (!unordered) return { exhausted: !unknown, why: unknown ? undefined : firstReason };
    return yield* this.byCells(from, within, room);
  }

  /** Whether two moves undo each other, some times the one and some times the other. */
  private hasDetour({ counts, last }: Found): boolean {
    const { moves } = this;
    const all = counts.map((count, i) => count + (i === last ? 1 : 0));
    const used = all.flatMap((count, i) => (count > 0 ? [i] : []));
    return used.some((i, k) =>
      used.slice(k + 1).some((j) => {
        const [a, b] = [moves[i] ?? [], moves[j] ?? []];
        const axis = a.findIndex((x) => x !== 0);
        const [x, y] = [a[axis] ?? 0, b[axis] ?? 0];
        if (x * y >= 0 || !a.every((value, at) => value * y === (b[at] ?? 0) * x)) return false;
        // m times the one and n times the other, without a common factor, come to nothing.
        const by = gcd(Math.abs(x), Math.abs(y));
        return Math.abs(y) / by <= (all[i] ?? 0) && Math.abs(x) / by <= (all[j] ?? 0);
      }),
    );
  }

  private orderOf({ counts, last }: Found, from: Vector, room: Room) {
    if (counts.reduce((sum, count) => sum + count, 0) > MOST_MOVES) return 'unknown' as const;
    if (last === undefined) return orderWithin(counts, this.moves, from, room);
    const order = orderWithin(counts, this.moves, from, room);
    if (typeof order === 'string') return order;
    if (order.length === 0) return room.notFirst.has(last) ? ('none' as const) : [last];
    // The point in front of the last move has to be inside as well.
    const before = order.reduce<Vector>((at, i) => plus(at, this.moves[i] ?? []), from);
    return isWithin(before, room) && !room.avoid(before) ? [...order, last] : ('unknown' as const);
  }

  private mayEnd(point: Vector): boolean {
    return isWithin(point, this.room) || this.grounds.spotOn(point) !== undefined;
  }

  private *byCells(
    from: Vector,
    points: readonly Vector[],
    room: Room,
  ): Generator<Course | undefined, GroundEnd> {
    const goals = new Set(points.map((point) => point.join(' ')));
    const isGoal = (at: Vector): boolean => goals.has(at.join(' '));
    const answer = yield* courseByCells(this.moves, this.costs, from, isGoal, room);
    if (answer.kind === 'order') {
      const to = answer.order.reduce<Vector>((at, i) => plus(at, this.moves[i] ?? []), from);
      yield this.course(answer.order, to);
      return { exhausted: false, why: undefined };
    }
    if (answer.kind === 'unknown') return { exhausted: false, why: undefined };
    return { exhausted: true, why: { kind: 'bounds', reached: answer.reached } };
  }

  private course(order: readonly number[], to: Vector): Course {
    const ids: number[] = [];
    let before: number | undefined;
    for (const move of order) {
      const items = this.ids[move] ?? [];
      if (before !== undefined) {
        const last = this.efforts.of(this.ids[before] ?? [], false);
        for (const id of this.efforts.between.ids(last, this.efforts.of(items, false))) ids.push(id); // prettier-ignore
      }
      for (const id of items) ids.push(id);
      before = move;
    }
    return { order, ids, to };
  }

  /**
   * Counts to any of the points in order of what they cost: each point is solved when its bound
   * comes up, and goes on to its next counts when its last ones were taken.
   */
  private *allCounts(
    from: Vector,
    points: readonly Vector[],
  ): Generator<Found | Failure | undefined, void> {
    interface Source {
      readonly to: Vector;
      readonly last: number | undefined;
      readonly offset: Vector;
      readonly extra: number;
      found: Counts | undefined;
      more: Generator<Counts, void> | undefined;
    }
    // What parts two moves does not stand behind the last one. Where that differs from move to
    // move, the last move is chosen first.
    const alike = this.ends.every((gap) => gap === this.ends[0]);
    const lasts = alike ? [undefined] : this.moves.map((_, i) => i);
    const sources: Source[] = [];
    const heap = new Heap();
    for (const to of points) {
      const whole = to.map((x, axis) => x - (from[axis] ?? 0));
      if (whole.every((x) => x === 0)) continue;
      for (const last of lasts) {
        const move = last === undefined ? undefined : this.moves[last];
        const offset = whole.map((x, axis) => x - (move?.[axis] ?? 0));
        const extra = last === undefined ? 0 : (this.costs[last] ?? 0) - (this.ends[last] ?? 0);
        const bound = this.combiner.bound(offset);
        heap.push(sources.length, bound + extra);
        sources.push({ to, last, offset, extra, found: undefined, more: undefined });
      }
    }
    const seen = new Set<string>();
    let solved = 0;
    for (let at = heap.pop(); at >= 0; at = heap.pop()) {
      const source = sources[at];
      if (source === undefined) continue;
      const { to, last, offset, extra } = source;
      if (source.found === undefined) {
        const answer = this.combiner.solve(offset);
        if (++solved % 16 === 0) yield undefined;
        if (answer.kind !== 'counts') {
          yield answer.kind === 'impossible' ? answer : { kind: 'unknown' };
          continue;
        }
        source.found = answer.best;
        heap.push(at, answer.best.cost + extra);
        continue;
      }
      const { counts } = source.found;
      const all = counts.map((count, i) => count + (i === last ? 1 : 0));
      const key = `${all.join(' ')}>${to.join(' ')}`;
      if (!seen.has(key)) yield { counts, last, to };
      seen.add(key);
      source.more ??= this.combiner.solutions(offset);
      const next = source.more.next();
      if (next.done === true) continue;
      source.found = next.value;
      heap.push(at, next.value.cost + extra);
    }
  }
}

interface Found {
  readonly counts: readonly number[];
  /** The move behind the counted ones, where it was chosen first. */
  readonly last: number | undefined;
  readonly to: Vector;
}
type Failure =
  { readonly kind: 'impossible'; readonly why: Impossible } | { readonly kind: 'unknown' };
