import type { RouteDeclaration } from '../syntax/tree.js';
import type { Log } from './log.js';
import { Places } from './places.js';
import { start } from './atoms.js';

/**
 * The spots that a route starts from, in order; undefined where it does not say, and
 * positions are not followed. `anywhere`: every spot with a row in the log that is not paused
 * and not the goal.
 */
export function startsOf(route: RouteDeclaration, log: Log): Places | undefined {
  if (route.from === undefined) return undefined;
  const places = new Places();
  if (route.from === 'anywhere') {
    const goal = route.to === undefined ? -1 : log.spot(route.to.name);
    for (const spot of log.starts) {
      if (spot !== goal && log.paused[spot] !== true) places.add(spot, start(spot));
    }
  } else {
    for (const { spot } of route.from) {
      const place = log.spot(spot.name);
      places.add(place, start(place));
    }
  }
  return places;
}
