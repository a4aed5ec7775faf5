import type { ClaimStep, RepeatStep, TimedStep } from '../model/steps.js';
import { type Loop, lengthOf, type Node, type Run } from './compile.js';
import type { Grounds } from './ground.js';
import type { Log, Outcome } from './log.js';
import { arrival } from './arrive.js';
import {
  type Atom,
  atomsOf,
  atRest,
  frontOf,
  jump,
  keyOf,
  LOST,
  reach,
  start,
  toFront,
} from './atoms.js';
import { type Orbit, orbits, successors } from './orbit.js';
import { type Front, Places, type Trail, UNKNOWN } from './places.js';

/** What following meets on its way. Every callback may be left out. */
export interface Watch {
  /** A place from which the log does not say where the item leads. */
  unknown?(place: number, step: TimedStep | undefined, trail: Trail | undefined): void;
  /** A move of a ground ended outside of it. */
  off?(place: number, step: TimedStep | undefined, trail: Trail | undefined): void;
  /** A row was used. */
  row?(from: number, outcome: Outcome, step: TimedStep | undefined): void;
  claim?(claim: ClaimStep, places: Places): void;
  until?(step: RepeatStep, result: UntilResult): void;
  item?(item: number, places: Places | undefined, ahead: boolean): void;
  /** A repeat of the outermost sequence begins. */
  repeat?(step: RepeatStep, places: Places | undefined): void;
}

export interface UntilResult {
  readonly target: number;
  /** Places that get there, with after how many times. Only the fewest, in `likely` mode. */
  readonly arrived: { place: number; times: number }[];
  /** Places that never do, with the cycle they are caught in. */
  readonly never: { place: number; orbit: Orbit<number>; trail: Trail | undefined }[];
  /** Whether the log does not say, for some place, where the repeat leads. */
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
  private readonly spare: Places[] = [];
  /** How many repeats we are in, and what is known of the inner ones of the outermost. */
  private depth = 0;
  private readonly inner = new Map<Loop, Map<string, (atom: Atom) => readonly Atom[]>>();

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
    if (lengthOf(node.again) === 0) return;
    // Behind an until nobody knows yet what comes: as far as rows look, the body goes on.
    const count = node.until === undefined ? node.count : Infinity;
    for (let times = 0; times < count && into.length < this.longest; times++) {
      const before = into.length;
      for (const inner of times === 0 ? node.body : node.again) this.firstTokens(inner, into);
      if (into.length === before && times > 0) return;
    }
  }

  private run(run: Run, entry: Front, after: readonly number[]): Front {
    const { ids, steps, marks } = run;
    const n = ids.length;
    // Never longer than the furthest place in it.
    const front: Front = [...entry];
    const token = (at: number): number => (at < n ? ids[at] : after[at - n]) ?? -1;
    let mark = 0;
    for (let i = 0; i <= n; i++) {
      for (let next = marks[mark]; next?.index === i; next = marks[mark]) {
        mark++;
        if (next.kind === 'claim') this.claim(next.claim, front, i);
        else if (next.kind === 'repeat') this.watch.repeat?.(next.repeat, front[i]);
        else this.watch.item?.(next.item, front[i], front.length > i + 1);
      }
      const places = front[i];
      if (places === undefined || i === n) continue;
      for (let k = 0; k < places.list.length; k++) {
        this.advance(places.list[k] ?? UNKNOWN, places.trails[k], i, token, steps[i], front);
      }
      front[i] = undefined;
      // What was made on the way and is left behind is of use again.
      if (i >= entry.length && this.spare.length < 8) {
        places.reset();
        this.spare.push(places);
      }
    }
    const rest = front.slice(n);
    return rest.length === 0 ? [undefined] : rest;
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

  private reach(front: Front, at: number, place: number, trail: Trail | undefined): void {
    let places = front[at];
    if (places === undefined) {
      places = this.spare.pop() ?? new Places();
      while (front.length < at) front.push(undefined);
      front[at] = places;
    }
    places.add(place, trail);
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
      this.reach(front, i + 1, UNKNOWN, trail);
      return;
    }
    const { log } = this;
    const waits = (log.tokens.neutral[token(i)] ?? -1) >= 0;
    if (waits && !log.waitsFirst) {
      this.reach(front, i + 1, place, trail);
      return;
    }
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
      if (node >= 0 && log.goesOn[node] !== true) break;
    }
    const outcomes = best < 0 ? undefined : log.outcomes[best];
    if (outcomes !== undefined) {
      const taken = this.options.likely === true ? [mostSighted(outcomes)] : outcomes;
      for (const outcome of taken) {
        if (outcome === undefined) continue;
        this.watch.row?.(place, outcome, step);
        const { count: sightings, to } = outcome;
        this.reach(front, i + length, to, { before: trail, place: to, sightings, via: '' });
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
        this.reach(front, i + landing.length, UNKNOWN, trail);
        return;
      }
      const to = landing.place;
      const via = landing.move.written;
      this.reach(front, i + landing.length, to, {
        before: trail,
        place: to,
        sightings: Infinity,
        via,
      });
      return;
    }
    if (waits) {
      this.reach(front, i + 1, place, trail);
      return;
    }
    this.watch.unknown?.(place, step, trail);
    this.reach(front, i + 1, UNKNOWN, trail);
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

  /**
   * Repeats inside repeats, and blocks shared by many uses, are worked out once for each place
   * that they are entered from: walked each time, a short text could stand for more walks than
   * anybody waits for.
   */
  private loop(loop: Loop, entry: Front, after: readonly number[]): Front {
    if (this.depth === 0) this.inner.clear();
    else {
      const result: Front = [];
      const known = this.innerMap(loop, after);
      entry.forEach((places, ahead) => {
        places?.list.forEach((place, i) => {
          const trail = places.trails[i];
          for (const to of known({ place, ahead })) {
            reach(result, to.ahead, to.place, jump(trail, to.place));
          }
        });
      });
      return result.length === 0 ? [undefined] : result;
    }
    return this.whole(loop, entry, after);
  }

  private innerMap(loop: Loop, after: readonly number[]): (atom: Atom) => readonly Atom[] {
    let maps = this.inner.get(loop);
    if (maps === undefined) {
      maps = new Map<string, (atom: Atom) => readonly Atom[]>();
      this.inner.set(loop, maps);
    }
    const key = after.join(' ');
    let map = maps.get(key);
    if (map === undefined) {
      map = remembered((atom) =>
        atomsOf(this.whole(loop, frontOf(atom, start(atom.place)), after)),
      );
      maps.set(key, map);
    }
    return map;
  }

  private whole(loop: Loop, entry: Front, after: readonly number[]): Front {
    this.depth++;
    const front = this.entered(loop, entry, after);
    this.depth--;
    return front;
  }

  private entered(loop: Loop, entry: Front, after: readonly number[]): Front {
    const target = loop.until === undefined ? undefined : this.log.spot(loop.until);
    if (target !== undefined) return this.untilLoop(loop, target, entry);
    return this.times(loop, entry, loop.count, after);
  }

  /** `count` times: a few by hand where rows see the end, the rest as a map iterated. */
  private times(loop: Loop, entry: Front, count: number, after: readonly number[]): Front {
    const { body, again } = loop;
    if (count <= 0) return entry;
    const length = lengthOf(again);
    // What takes no time at all does not do more for being done again.
    if (length === 0) return this.through(body, entry, after);
    // Times from whose start a row can look beyond the last one.
    const near = Math.ceil(this.longest / length) + 1;
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
    const map = this.round(again);
    const atoms = atomsOf(entry);
    const next = (atom: Atom): Atom | undefined => {
      const to = map(atom);
      return to.length === 1 ? to[0] : undefined;
    };
    const ends = successors(atoms, next, keyOf, times);
    if (ends === undefined) return this.iterateSets(map, entry, times);
    const result: Front = [];
    ends.forEach((end, i) => {
      const { place, ahead } = atoms[i] ?? LOST;
      reach(result, end.ahead, end.place, jump(entry[ahead]?.trail(place), end.place));
    });
    return result;
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
    return remembered((atom) =>
      atomsOf(this.through(nodes, frontOf(atom, start(atom.place)), after)),
    );
  }

  /** One more time of a body that is repeated without end. */
  round(again: readonly Node[]): (atom: Atom) => readonly Atom[] {
    return this.mapOf(again, this.behind(again, this.longest, []));
  }

  private untilLoop(loop: Loop, target: number, entry: Front): Front {
    const { again, count } = loop;
    const inside = this.behind(again, this.longest, []);
    const front = this.times({ ...loop, until: undefined }, entry, count, inside);
    const map = this.round(again);
    const atoms = atomsOf(front);
    const { times, visited, lost } = arrival(atoms, target, map);
    const arrived: UntilResult['arrived'] = [];
    const stuck: Atom[] = [];
    let trailOfTarget: Trail | undefined;
    for (const atom of atoms) {
      const more = times.get(keyOf(atom));
      if (more === undefined) {
        if (atom.place !== UNKNOWN) stuck.push(atom);
        continue;
      }
      const trail = front[atom.ahead]?.trail(atom.place);
      arrived.push({ place: atom.place, times: count + more });
      trailOfTarget ??= more === 0 ? trail : jump(trail, target);
    }
    const never = this.caught(stuck, map, front);
    const unknown = lost || never.length < stuck.length;
    if (loop.step !== undefined) {
      this.watch.until?.(loop.step, { target, arrived, never, unknown, visited: [...visited] });
    }
    // The player leaves only on seeing the spot, so behind the loop they are there.
    const places = new Places();
    places.add(target, trailOfTarget ?? start(target));
    return [places];
  }

  /** The cycles of atoms that stay known, by first outcomes. */
  private caught(
    atoms: readonly Atom[],
    map: (atom: Atom) => readonly Atom[],
    front: Front,
  ): UntilResult['never'] {
    const next = (atom: Atom): Atom | undefined => {
      const [to] = map(atom);
      return to?.place === UNKNOWN ? undefined : to;
    };
    // Orbits that share a cycle share its list.
    const named = new Map<readonly Atom[], readonly number[]>();
    return orbits(atoms, next, keyOf).flatMap((found, i) => {
      const { place, ahead } = atoms[i] ?? LOST;
      if (found === undefined) return [];
      const { tail } = found;
      const cycle = named.get(found.cycle) ?? atRest(found.cycle).map((each) => each.place);
      named.set(found.cycle, cycle);
      return [{ place, orbit: { tail, cycle }, trail: front[ahead]?.trail(place) }];
    });
  }
}

function mostSighted(outcomes: readonly Outcome[]): Outcome | undefined {
  let best = outcomes[0];
  for (const outcome of outcomes)
    if (best !== undefined && outcome.count > best.count) best = outcome;
  return best;
}

function remembered(map: (atom: Atom) => readonly Atom[]): (atom: Atom) => readonly Atom[] {
  const known = new Map<number, readonly Atom[]>();
  return (atom) => {
    const key = keyOf(atom);
    let to = known.get(key);
    if (to === undefined) known.set(key, (to = map(atom)));
    return to;
  };
}
