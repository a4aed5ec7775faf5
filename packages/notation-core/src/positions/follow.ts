import type { ClaimStep, RepeatStep, TimedStep } from '../model/steps.js';
import { type Loop, lengthOf, type Node, type Run } from './compile.js';
import type { Grounds } from './ground.js';
import type { Log, Outcome } from './log.js';
import { type Front, Places, type Trail, UNKNOWN } from './places.js';
import { orbit, type Orbit } from './orbit.js';

/** What following meets on its way. Every callback may be left out. */
export interface Watch {
  /** A place from which the log does not say where the item leads. */
  unknown?(place: number, step: TimedStep | undefined, trail: Trail | undefined): void;
  /** A move of a ground ended outside of it. */
  off?(place: number, step: TimedStep | undefined, trail: Trail | undefined): void;
  /** A row was used. */
  row?(from: number, outcome: Outcome): void;
  claim?(claim: ClaimStep, places: Places): void;
  until?(step: RepeatStep, result: UntilResult): void;
  item?(item: number, places: Places | undefined, ahead: boolean): void;
}

export interface UntilResult {
  readonly target: number;
  /** Places that get there, with after how many times. Only the fewest, in `likely` mode. */
  readonly arrived: { place: number; times: number }[];
  /** Places that never do, with the cycle they are caught in. */
  readonly never: { place: number; orbit: Orbit; trail: Trail | undefined }[];
  readonly unknown: boolean;
  /** Every place at which the player looks, the target included where it is met. */
  readonly visited: readonly number[];
}

export interface FollowOptions {
  /** A node of the log whose rows are left out, to see what the others say. */
  readonly without?: number;
  readonly watch?: Watch;
  /** Only the most sighted outcome of each row: the nominal course. */
  readonly likely?: boolean;
}

/** Rounds of a repeat that are walked one by one where its outcomes are not certain. */
const ROUNDS = 20_000;

/** One place and how many tokens ahead it is: what one time through a body is a map of. */
interface Atom {
  readonly place: number;
  readonly ahead: number;
}

/**
 * Carries the set of places through a compiled sequence.
 *
 * From a place at rest the longest row whose items come next leads on; on ground the moves
 * add up; nothing but waiting keeps a place; anything else is unknown until the next claim.
 * Each place goes its own way, so a body is a map of places, and a repeat of any count is
 * that map iterated: tail and cycle, never steps.
 */
export class Follower {
  private readonly watch: Watch;
  private readonly longest: number;

  constructor(
    private readonly log: Log,
    private readonly grounds: Grounds,
    private readonly options: FollowOptions = {},
  ) {
    this.watch = options.watch ?? {};
    this.longest = log.longest + 1;
  }

  /** Where the places can be behind the nodes. */
  follow(nodes: readonly Node[], from: Places): Places {
    const front = this.through(nodes, [from], []);
    const end = new Places();
    for (const places of front) {
      places?.list.forEach((place, i) => end.add(place, places.trails[i]));
    }
    return end;
  }

  /** `after` is what comes behind the nodes, as far as rows can look. */
  private through(nodes: readonly Node[], entry: Front, after: readonly number[]): Front {
    let front = entry;
    for (let i = 0; i < nodes.length; i++) {
      const node = nodes[i];
      if (node === undefined) continue;
      const ahead = this.lookahead(nodes, i + 1, after);
      front = node.kind === 'run' ? this.run(node, front, ahead) : this.loop(node, front, ahead);
    }
    return front;
  }

  /** The next tokens from node `from` on, then `after`. */
  private lookahead(nodes: readonly Node[], from: number, after: readonly number[]): number[] {
    const ids: number[] = [];
    for (let i = from; i < nodes.length && ids.length < this.longest; i++) {
      const node = nodes[i];
      if (node !== undefined) this.firstTokens(node, ids);
    }
    for (let i = 0; i < after.length && ids.length < this.longest; i++) ids.push(after[i] ?? 0);
    return ids;
  }

  private firstTokens(node: Node, into: number[]): void {
    if (node.kind === 'run') {
      for (let i = 0; i < node.ids.length && into.length < this.longest; i++) {
        into.push(node.ids[i] ?? 0);
      }
      return;
    }
    for (let times = 0; times < node.count && into.length < this.longest; times++) {
      const before = into.length;
      for (const inner of times === 0 ? node.body : node.again) this.firstTokens(inner, into);
      if (into.length === before && times > 0) return;
    }
  }

  private run(run: Run, entry: Front, after: readonly number[]): Front {
    const { ids, steps, marks } = run;
    const n = ids.length;
    const front: Front = entry.length === 1 && n > 0 ? new Array<undefined>(n + 1) : [...entry];
    if (entry.length === 1) front[0] = entry[0];
    const token = (at: number): number => (at < n ? ids[at] : after[at - n]) ?? -1;
    let mark = 0;
    for (let i = 0; i <= n; i++) {
      for (let next = marks[mark]; next?.index === i; next = marks[mark]) {
        mark++;
        if (next.kind === 'item') this.watch.item?.(next.item, front[i], this.isAhead(front, i));
        else this.claim(next.claim, front, i);
      }
      const places = front[i];
      if (places === undefined || i === n) continue;
      for (let k = 0; k < places.list.length; k++) {
        this.advance(places.list[k] ?? UNKNOWN, places.trails[k], i, token, steps[i], front);
      }
      front[i] = undefined;
    }
    const rest = front.slice(n);
    return rest.length === 0 ? [undefined] : rest;
  }

  private isAhead(front: Front, from: number): boolean {
    for (let i = from + 1; i < front.length; i++) if (front[i] !== undefined) return true;
    return false;
  }

  private claim(claim: ClaimStep, front: Front, i: number): void {
    const places = front[i];
    if (places === undefined) return;
    this.watch.claim?.(claim, places);
    const spot = this.log.spot(claim.spot);
    const now = new Places();
    now.add(spot, places.trail(spot) ?? start(spot));
    front[i] = now;
  }

  /** One place, one row (or move, or wait) further. */
  private advance(
    place: number,
    trail: Trail | undefined,
    i: number,
    token: (at: number) => number,
    step: TimedStep | undefined,
    front: Front,
  ): void {
    if (place === UNKNOWN) {
      reach(front, i + 1, UNKNOWN, trail);
      return;
    }
    const { log } = this;
    let best = -1;
    let length = 0;
    let node = log.root(place);
    for (let k = 0; node >= 0; k++) {
      const next = token(i + k);
      if (next < 0) break;
      node = log.child(node, next);
      if (node >= 0 && log.outcomes[node] !== undefined && node !== this.options.without) {
        if (this.rests(log.trailing[node] ?? 0, next, i + k + 1, token)) {
          best = node;
          length = k + 1;
        }
      }
    }
    const outcomes = best < 0 ? undefined : log.outcomes[best];
    if (outcomes !== undefined) {
      const taken = this.options.likely === true ? [mostSighted(outcomes)] : outcomes;
      for (const outcome of taken) {
        if (outcome === undefined) continue;
        this.watch.row?.(place, outcome);
        const { count: sightings, to } = outcome;
        reach(front, i + length, to, { before: trail, place: to, sightings, via: '' });
      }
      return;
    }
    const landing = this.grounds.move(
      place,
      (ahead) => token(i + ahead),
      ({ ids }) => this.rests(0, ids[ids.length - 1] ?? 0, i + ids.length, token),
    );
    if (landing !== undefined) {
      if (landing.off) {
        this.watch.off?.(place, step, trail);
        reach(front, i + landing.length, UNKNOWN, trail);
        return;
      }
      const to = landing.place;
      const via = landing.move.written;
      reach(front, i + landing.length, to, { before: trail, place: to, sightings: Infinity, via });
      return;
    }
    if ((log.tokens.neutral[token(i)] ?? -1) >= 0) {
      reach(front, i + 1, place, trail);
      return;
    }
    this.watch.unknown?.(place, step, trail);
    reach(front, i + 1, UNKNOWN, trail);
  }

  /**
   * Whether a character comes to rest behind a row: paused, at the end, or with enough neutral
   * frames before anything else is pressed.
   */
  private rests(
    trailing: number,
    last: number,
    next: number,
    token: (at: number) => number,
  ): boolean {
    const { tokens } = this.log;
    if (tokens.paused[last] === true) return true;
    const settle = this.log.scope.game.settle ?? 0;
    // Without `settle` in the game any gap will do, but not none.
    let neutral = trailing;
    for (let at = next, any = trailing > 0; ; at++, any = true) {
      if (any && neutral >= settle) return true;
      const id = token(at);
      if (id < 0) return true;
      const frames = tokens.neutral[id] ?? -1;
      if (frames < 0) return false;
      neutral += frames;
    }
  }

  private loop(loop: Loop, entry: Front, after: readonly number[]): Front {
    const target = loop.until === undefined ? undefined : this.log.spot(loop.until);
    if (target !== undefined) return this.untilLoop(loop, target, entry);
    return this.times(loop, entry, loop.count, after);
  }

  /** `count` times: a few by hand where rows see the end, the rest as a map iterated. */
  private times(loop: Loop, entry: Front, count: number, after: readonly number[]): Front {
    const { body, again } = loop;
    if (count <= 0) return entry;
    const length = lengthOf(again);
    // Times from whose start a row can look beyond the last one.
    const near = length === 0 ? count : Math.ceil(this.longest / length) + 1;
    let front = entry;
    let done = 0;
    while (done < count) {
      const left = count - done - 1;
      const nodes = done === 0 ? body : again;
      const middle = left - near;
      if (done > 0 && middle > 4) {
        front = this.iterate(again, front, middle);
        done += middle;
        continue;
      }
      front = this.through(nodes, front, this.behind(again, left, after));
      done++;
    }
    return front;
  }

  /** What comes behind one time of a body with `left` more to come. */
  private behind(again: readonly Node[], left: number, after: readonly number[]): number[] {
    const ids: number[] = [];
    for (let i = 0; i < left && ids.length < this.longest; i++) {
      const before = ids.length;
      for (const node of again) this.firstTokens(node, ids);
      if (ids.length === before) break;
    }
    for (let i = 0; i < after.length && ids.length < this.longest; i++) ids.push(after[i] ?? 0);
    return ids;
  }

  /** The body's map, `times` times, where no row sees the end of the repeat. */
  private iterate(again: readonly Node[], entry: Front, times: number): Front {
    const map = this.mapOf(again, this.behind(again, this.longest, []));
    const certain: { atom: Atom; trail: Trail | undefined }[] = [];
    let branching = false;
    entry.forEach((places, ahead) => {
      places?.list.forEach((place, i) =>
        certain.push({ atom: { place, ahead }, trail: places.trails[i] }),
      );
    });
    const result: Front = [];
    for (const { atom, trail } of certain) {
      const found = orbit(
        atom,
        (each) => {
          const next = map(each);
          return next.length === 1 ? next[0] : undefined;
        },
        keyOf,
        times,
      );
      if (found === undefined) {
        branching = true;
        break;
      }
      reach(result, found.ahead, found.place, jump(trail, found.place));
    }
    return branching ? this.iterateSets(map, entry, times) : result;
  }

  /** The same for maps with several outcomes: sets of atoms, until a set comes again. */
  private iterateSets(map: (atom: Atom) => readonly Atom[], entry: Front, times: number): Front {
    const trails = new Map<number, Trail | undefined>();
    let set = new Map<number, Atom>();
    entry.forEach((places, ahead) => {
      places?.list.forEach((place, i) => {
        const key = keyOf({ place, ahead });
        set.set(key, { place, ahead });
        trails.set(key, places.trails[i]);
      });
    });
    const seen = new Map<string, number>();
    const sets: Map<number, Atom>[] = [];
    for (let round = 0; round < times; round++) {
      const key = [...set.keys()].sort((a, b) => a - b).join(' ');
      const first = seen.get(key);
      if (first !== undefined) {
        const cycle = round - first;
        set = sets[first + ((times - first) % cycle)] ?? set;
        return toFront(set, trails);
      }
      if (round >= ROUNDS) {
        // No exact answer within the limit: unknown is true, if not all that could be said.
        return toFront(new Map([[keyOf(LOST), LOST]]), trails);
      }
      seen.set(key, round);
      sets.push(set);
      const next = new Map<number, Atom>();
      for (const [from, atom] of set) {
        for (const to of map(atom)) {
          const key2 = keyOf(to);
          if (next.has(key2)) continue;
          next.set(key2, to);
          if (!trails.has(key2)) trails.set(key2, jump(trails.get(from), to.place));
        }
      }
      set = next;
    }
    return toFront(set, trails);
  }

  /** One time through nodes as a map of atoms, each worked out once. */
  private mapOf(nodes: readonly Node[], after: readonly number[]): (atom: Atom) => readonly Atom[] {
    const known = new Map<number, readonly Atom[]>();
    return (atom) => {
      const key = keyOf(atom);
      let to = known.get(key);
      if (to === undefined) {
        const places = new Places();
        places.add(atom.place, start(atom.place));
        const entry: Front = [];
        entry[atom.ahead] = places;
        to = atomsOf(this.through(nodes, entry, after));
        known.set(key, to);
      }
      return to;
    };
  }

  private untilLoop(loop: Loop, target: number, entry: Front): Front {
    const { again, count } = loop;
    const inside = this.lookahead(again, 0, []);
    const front = this.times({ ...loop, until: undefined }, entry, count, inside);
    const map = this.mapOf(again, inside);
    const arrived: UntilResult['arrived'] = [];
    const never: UntilResult['never'] = [];
    const visited = new Set<number>();
    let unknown = false;
    let trailOfTarget: Trail | undefined;
    const memo = new Map<number, boolean>();
    for (const atom of atomsOf(front)) {
      if (atom.place === UNKNOWN) {
        unknown = true;
        continue;
      }
      const trail = front[atom.ahead]?.trail(atom.place);
      const times = stepsTo(atom, target, map, memo, visited);
      if (times === undefined) {
        const found = orbitOf(atom, map);
        never.push({ place: atom.place, orbit: found, trail });
      } else {
        arrived.push({ place: atom.place, times: count + times });
        trailOfTarget ??= times === 0 ? trail : jump(trail, target);
      }
    }
    if (loop.step !== undefined) {
      this.watch.until?.(loop.step, { target, arrived, never, unknown, visited: [...visited] });
    }
    // The player leaves only on seeing the spot, so behind the loop they are there.
    const places = new Places();
    places.add(target, trailOfTarget ?? start(target));
    return [places];
  }
}

const LOST: Atom = { place: UNKNOWN, ahead: 0 };
const AHEAD = 2048;

function keyOf(atom: Atom): number {
  return (atom.place + 1) * AHEAD + atom.ahead;
}

export function start(place: number): Trail {
  return { before: undefined, place, sightings: Infinity, via: '' };
}

function jump(trail: Trail | undefined, place: number): Trail {
  return { before: trail, place, sightings: Infinity, via: '…' };
}

function reach(front: Front, at: number, place: number, trail: Trail | undefined): void {
  let places = front[at];
  if (places === undefined) {
    places = new Places();
    while (front.length < at) front.push(undefined);
    front[at] = places;
  }
  places.add(place, trail);
}

function atomsOf(front: Front): Atom[] {
  const atoms: Atom[] = [];
  front.forEach((places, ahead) => {
    places?.list.forEach((place) => atoms.push({ place, ahead }));
  });
  return atoms;
}

function toFront(atoms: Map<number, Atom>, trails: Map<number, Trail | undefined>): Front {
  const front: Front = [];
  for (const [key, atom] of atoms) reach(front, atom.ahead, atom.place, trails.get(key));
  return front;
}

function mostSighted(outcomes: readonly Outcome[]): Outcome | undefined {
  let best = outcomes[0];
  for (const outcome of outcomes)
    if (best !== undefined && outcome.count > best.count) best = outcome;
  return best;
}

/** Fewest times from the atom until the target is there, by breadth; undefined where never. */
function stepsTo(
  from: Atom,
  target: number,
  map: (atom: Atom) => readonly Atom[],
  never: Map<number, boolean>,
  visited: Set<number>,
): number | undefined {
  const seen = new Set<number>([keyOf(from)]);
  let level: Atom[] = [from];
  for (let times = 0; level.length > 0; times++) {
    for (const atom of level) visited.add(atom.place);
    if (level.some((atom) => atom.place === target && atom.ahead === 0)) return times;
    const next: Atom[] = [];
    for (const atom of level) {
      if (never.get(keyOf(atom)) === true) continue;
      for (const to of map(atom)) {
        if (to.place === UNKNOWN || seen.has(keyOf(to))) continue;
        seen.add(keyOf(to));
        next.push(to);
      }
    }
    level = next;
  }
  for (const key of seen) never.set(key, true);
  return undefined;
}

/** The course of an atom by first outcomes: its tail, and the cycle that it ends in. */
function orbitOf(from: Atom, map: (atom: Atom) => readonly Atom[]): Orbit {
  const at = new Map<number, number>();
  const course: number[] = [];
  let atom: Atom | undefined = from;
  while (atom !== undefined && atom.place !== UNKNOWN && !at.has(keyOf(atom))) {
    at.set(keyOf(atom), course.length);
    course.push(atom.place);
    atom = map(atom)[0];
  }
  const entry = atom === undefined ? course.length : (at.get(keyOf(atom)) ?? course.length);
  return { tail: course.slice(0, entry), cycle: course.slice(entry) };
}
