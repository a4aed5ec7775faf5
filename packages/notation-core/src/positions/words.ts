import type { Log } from './log.js';
import { type Trail, UNKNOWN } from './places.js';

/** Places as they are written: `@reed`; coordinates stay as they are. */
export function placeName(log: Log, place: number): string {
  if (place === UNKNOWN) return 'an unknown spot';
  const name = log.name(place);
  return name.startsWith('(') ? name : `@${name}`;
}

/** `@a, @b, @c and 4 more`. */
export function placeList(log: Log, places: readonly number[], most = 6): string {
  const names = [...new Set(places.map((place) => placeName(log, place)))].sort();
  if (names.length <= most) return names.join(', ');
  return `${names.slice(0, most).join(', ')} and ${names.length - most} more`;
}

/** The way to a place, its last steps: `… > @rush > @sedge`. */
export function pathTo(log: Log, trail: Trail | undefined, most = 6): string {
  const names: string[] = [];
  let at = trail;
  for (; at !== undefined && names.length < most; at = at.before) {
    const name = placeName(log, at.place);
    if (names[0] !== name) names.unshift(name);
  }
  return (at === undefined ? '' : '… > ') + names.join(' > ');
}
