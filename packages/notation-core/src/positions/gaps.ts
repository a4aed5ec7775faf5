import type { Scope } from '../model/scope.js';
import { knownOf } from './context.js';
import { type Costed, costed } from './costs.js';
import type { Log } from './log.js';
import { type MenuMove, type MenuOptions, menuOf } from './menu.js';
import { type Place, inOrder, savesOf } from './ranking.js';
import { type OnRoute, alongRoute } from './remaining.js';
import { type Tried, countsOf, probe } from './tried.js';

export interface GapsOptions extends MenuOptions {
  /** Names of the only spots that count; all where it is left out. */
  readonly spots?: readonly string[];
  /** Only the spots of this route. */
  readonly route?: string | undefined;
}

/** One spot, what of its menu was tried, and what is left of a route from it. */
export interface SpotGaps {
  /** Without `@`. */
  readonly spot: string;
  readonly paused: boolean;
  readonly counts: readonly Tried[];
  /** The route of which most is left from here; undefined off every route. */
  readonly on: RouteLeft | undefined;
}

export interface RouteLeft {
  readonly route: string;
  /** Where the route ends, or undefined. */
  readonly goal: string | undefined;
  /** Ticks of the nominal route from the spot on. */
  readonly ticks: number;
}

/** A move that nobody has tried from a spot. All lengths are in ticks. */
export interface Gap {
  readonly spot: string;
  readonly move: MenuMove;
  readonly ticks: number;
  readonly on: RouteLeft | undefined;
  /**
   * How much shorter the nominal route would be if the move led to its end at once, which is
   * the most that it can save. Zero or less where it could save nothing; undefined off route.
   */
  readonly saves: number | undefined;
  /** The same for a landing on the next spot that the route claims. */
  readonly next: { readonly spot: string; readonly saves: number } | undefined;
}

export interface Gaps {
  readonly spots: readonly SpotGaps[];
  /** Every gap, the most promising first, made as it is asked for. */
  ranked(): Generator<Gap, void>;
}

/** The moves that were not tried from each spot that is logged or named in a scope. */
export function findGaps(scope: Scope, options: GapsOptions): Gaps {
  const { log, grounds } = knownOf(scope);
  const routes = options.route === undefined ? undefined : new Set([options.route]);
  const on = bestRoutes(scope, routes);
  const menu = menuOf(scope.game, options);
  const running = menu.running.map((move) => costed(move, scope, false));
  const paused = menu.paused.map((move) => costed(move, scope, true));
  // Cheapest first, and as the menu has them where they cost the same.
  const byTicks = (a: Costed, b: Costed): number => a.ticks - b.ticks;
  const sorted = { running: [...running].sort(byTicks), paused: [...paused].sort(byTicks) };
  const wanted = options.spots === undefined ? undefined : new Set(options.spots);
  const places: Place[] = [];
  for (const name of spotNames(scope, on, log)) {
    if (wanted?.has(name) === false) continue;
    const id = log.spot(name);
    const isPaused = log.paused[id] === true;
    if (routes !== undefined && !on.has(id)) continue;
    places.push({
      id,
      name,
      paused: isPaused,
      moves: isPaused ? sorted.paused : sorted.running,
      on: on.get(id),
    });
  }
  const isOpen = probe(log, grounds);
  const left = (place: Place): RouteLeft | undefined => leftOf(place.on, log);
  return {
    spots: places.map((place) => ({
      spot: place.name,
      paused: place.paused,
      counts: countsOf(place, isOpen),
      on: left(place),
    })),
    *ranked() {
      for (const [place, move] of inOrder(places, log)) {
        if (isOpen(place.id, move) !== 'gap') continue;
        yield gapOf(place, move, left(place), log);
      }
    },
  };
}

/** For each spot the route of which most is left from it. */
function bestRoutes(scope: Scope, only: ReadonlySet<string> | undefined): Map<number, OnRoute> {
  const best = new Map<number, OnRoute>();
  for (const [name, { declaration, unit }] of scope.routes) {
    if (only?.has(name) === false) continue;
    for (const each of alongRoute(declaration, unit, scope)) {
      if (each.ticks > (best.get(each.spot)?.ticks ?? -1)) best.set(each.spot, each);
    }
  }
  return best;
}

/** Declared spots, logged ones, then those that only routes speak of; nameless places are none. */
function spotNames(scope: Scope, on: ReadonlyMap<number, OnRoute>, log: Log): Set<string> {
  const names = new Set([...scope.spots.keys(), ...scope.logged]);
  for (const spot of on.keys()) {
    const name = log.name(spot);
    if (!name.startsWith('(')) names.add(name);
  }
  return names;
}

function leftOf(on: OnRoute | undefined, log: Log): RouteLeft | undefined {
  if (on === undefined) return undefined;
  const goal = on.goal === undefined ? undefined : log.name(on.goal);
  return { route: on.route, goal, ticks: on.ticks };
}

function gapOf(place: Place, each: Costed, on: RouteLeft | undefined, log: Log): Gap {
  const next = place.on?.next;
  return {
    spot: place.name,
    move: each.move,
    ticks: each.ticks,
    on,
    saves: savesOf(place, each, log),
    next:
      next === undefined
        ? undefined
        : {
            spot: log.name(next.spot),
            saves:
              log.paused[next.spot] === true
                ? next.ticks - each.ticksOpen
                : next.ticks - each.ticks - each.gap,
          },
  };
}
