import type { Efforts } from './effort.js';
import type { Log } from './log.js';
import type { Reading } from './members.js';

/** What has to be known of the log to look for repeats. */
export interface Surroundings {
  readonly log: Log;
  readonly efforts: Efforts;
  readonly reading: Reading;
  /** Whether any spot has words by which the player knows it. */
  readonly hasCues: boolean;
  /** The words by which the player knows a spot, or ''. */
  cue(spot: number): string;
  /** The map of a stretch, made once. */
  mapOf(stretch: number, make: () => Next): Next;
}

/** `X*n+ until @a`: from wherever the character is, at @a for certain and known to be. */
export interface UntilMove {
  readonly ids: readonly number[];
  readonly least: number;
  /** The nominal count. */
  readonly times: number;
  readonly spot: number;
}

/** Starts beyond this many are not brought together by `until`. */
const MOST_PLACES = 20_000;
/** The least counts that are tried, until no spot on the way looks like the one to stop at. */
const MOST_LEAST = 64;

/**
 * The repeats of one stretch that bring all places to one spot: wherever the repeat can lead
 * on the way is known, can still reach the spot, and does not look like it.
 */
export function* untilMoves(
  from: readonly number[],
  stretches: ReadonlySet<number>,
  space: Surroundings,
): Generator<UntilMove> {
  if (from.length > MOST_PLACES || !space.hasCues) return;
  for (const stretch of stretches) {
    const ids = space.log.stretches[stretch]?.ids ?? [];
    const next = space.mapOf(stretch, () => mapOf(ids, space));
    const around = closure(from, next, -1);
    if (around.size > MOST_PLACES) continue;
    for (const spot of around) {
      if (spot < 0 || space.cue(spot) === '') continue;
      const least = leastFor(from, spot, next, space);
      if (least === undefined) continue;
      yield { ids, least, times: timesOf(from[0] ?? -1, spot, least, next), spot };
    }
  }
}

/** Where one time through some items leads from a place. */
export type Next = (place: number) => readonly number[];

/** Where one time leads, the most sighted place first; [-1] where it is lost. */
function mapOf(ids: readonly number[], space: Surroundings): Next {
  const effort = space.efforts.of(ids, false);
  const known = new Map<number, readonly number[]>();
  if (effort.intoPause) return () => [-1];
  return (place) => {
    let to = known.get(place);
    if (to === undefined) {
      const members = place < 0 ? undefined : space.reading.advance({ place, tail: [] }, ids);
      // A row over several times would be another map.
      const whole = members !== undefined && members.every(({ tail }) => tail.length === 0);
      to = whole ? members.map((member) => member.place) : [-1];
      known.set(place, to);
    }
    return to;
  };
}

/** All places after no, one or more times, not going on from the spot. */
function closure(from: Iterable<number>, next: Next, stop: number): Set<number> {
  const seen = new Set(from);
  for (const place of seen) {
    if (place !== stop) for (const to of next(place)) seen.add(to);
    if (seen.size > MOST_PLACES) break;
  }
  return seen;
}

function leastFor(
  from: readonly number[],
  spot: number,
  next: Next,
  space: Surroundings,
): number | undefined {
  let places = new Set(from);
  for (let least = 1; least <= MOST_LEAST; least++) {
    const after = new Set<number>();
    for (const place of places) for (const to of next(place)) after.add(to);
    if (after.has(-1)) return undefined;
    places = after;
    const seen = closure(places, next, spot);
    if (seen.has(-1) || !allReach(seen, spot, next)) return undefined;
    const cue = space.cue(spot);
    if ([...seen].every((each) => each === spot || space.cue(each) !== cue)) return least;
  }
  return undefined;
}

function allReach(places: ReadonlySet<number>, spot: number, next: Next): boolean {
  const back = new Map<number, number[]>();
  for (const place of places) {
    if (place === spot) continue;
    for (const to of next(place)) {
      const list = back.get(to);
      if (list === undefined) back.set(to, [place]);
      else list.push(place);
    }
  }
  const reach = new Set([spot]);
  for (const place of reach) for (const before of back.get(place) ?? []) reach.add(before);
  return [...places].every((place) => reach.has(place));
}

/** The fewest times, not under the least, that bring the nominal place to the spot. */
function timesOf(from: number, spot: number, least: number, next: Next): number {
  let place = from;
  const seen = new Set<number>();
  for (let times = 1; ; times++) {
    place = next(place)[0] ?? -1;
    if (times >= least) {
      if (place === spot) return times;
      if (place < 0 || seen.has(place)) return least;
      seen.add(place);
    }
  }
}
