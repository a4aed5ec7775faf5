import { Resolver } from '../model/resolve.js';
import type { Item, RouteDeclaration } from '../syntax/tree.js';
import { start as begin } from '../positions/atoms.js';
import { compile } from '../positions/compile.js';
import { knownOf } from '../positions/context.js';
import { Follower } from '../positions/follow.js';
import { Places, UNKNOWN } from '../positions/places.js';
import { startsOf } from '../positions/starts.js';
import { type Body, choicesTo, countFrom, extentOf, type Level, type Point } from './items-at.js';

/** Where the character can be at a place in the text. */
export interface SpotsHere {
  /** Names without `@`, in the order of the log. */
  readonly spots: readonly string[];
  /** Whether it can also be somewhere that the log does not say. */
  readonly unknown: boolean;
}

const NOWHERE: SpotsHere = { spots: [], unknown: true };

/**
 * Follows what stands in front of a place to see where the character is there. From the last
 * claim on, where there is one: what is in front of it cannot change anything behind it.
 */
export function spotsAt(
  point: Point,
  body: Body,
  levels: readonly Level[],
  upTo: number,
): SpotsHere {
  const { scope, unit } = point;
  if (levels.some(({ context }) => context !== 'run')) return NOWHERE;
  const front = itemsInFront(levels, upTo);
  if (front === undefined) return NOWHERE;
  const { log, grounds } = knownOf(scope);
  let places: Places | undefined;
  let rest = front;
  for (let i = front.length - 1; i >= 0 && places === undefined; i--) {
    const marks = front[i]?.marks ?? [];
    const claim = marks.filter(({ kind }) => kind === 'claim').pop();
    if (claim?.kind !== 'claim') continue;
    places = at(log.spot(claim.name));
    rest = front.slice(i + 1);
  }
  if (places === undefined) {
    if (body.from !== undefined) places = at(log.spot(body.from));
    else if (unit.declaration.kind === 'route') places = startsOf(unit.declaration, log);
  }
  if (places === undefined) return NOWHERE;
  const resolver = new Resolver(scope, choicesTo(levels));
  const sequence = resolver.resolve(rest, unit, undefined, { mayChoose: body.mayChoose });
  const ends = new Follower(log, grounds).follow(compile(sequence, log.tokens), places).list;
  const spots = ends.filter((place) => place !== UNKNOWN).map((place) => log.name(place));
  return { spots, unknown: ends.includes(UNKNOWN) || ends.length === 0 };
}

/** The spots that a route starts from. */
export function startSpots(route: RouteDeclaration, { scope }: Pick<Point, 'scope'>): string[] {
  const { log } = knownOf(scope);
  return startsOf(route, log)?.list.map((place) => log.name(place)) ?? [];
}

/** The items of all levels that end in front of a place, in the order in which they are played. */
function itemsInFront(levels: readonly Level[], upTo: number): readonly Item[] | undefined {
  const front: Item[] = [];
  levels.forEach(({ items, item }, i) => {
    const inside = levels[i + 1] !== undefined;
    for (const each of items.slice(0, countFrom(items, upTo))) {
      if (inside && each === item) break;
      if (extentOf(each).end <= upTo && each.start < upTo) front.push(each);
    }
  });
  return front;
}

function at(place: number): Places {
  const places = new Places();
  places.add(place, begin(place));
  return places;
}
