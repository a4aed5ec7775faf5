import type { Game } from '../model/game.js';
import { tickTime, secondsToMilliseconds } from '../timeline/clock.js';
import { toDecimal } from '../text/fraction.js';

/** Small words that several features say alike. */

export function many(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? '' : 's'}`;
}

/** `60 ms`, `33.333 ms`: so many ticks in the game's time, to three places. */
export function milliseconds(ticks: number, game: Game): string {
  return `${short(toDecimal(secondsToMilliseconds(tickTime(ticks, game.clock)), 3))} ms`;
}

/** `1.16 s`, to three places. */
export function seconds(ticks: number, game: Game): string {
  return `${short(toDecimal(tickTime(ticks, game.clock), 3))} s`;
}

function short(decimal: string): string {
  return decimal.includes('.') ? decimal.replace(/\.?0+$/, '') : decimal;
}

/** `3 ticks, 3 frames, 60 ms`. */
export function lengthWords(ticks: number, frames: number, game: Game): string {
  return `${many(ticks, 'tick')}, ${many(frames, 'frame')}, ${milliseconds(ticks, game)}`;
}

/** `@a, @b and 4 more`; coordinates stand without `@`. */
export function spotWords(names: readonly string[], unknown = false, most = 4): string {
  const shown = names.slice(0, most).map((name) => (name.startsWith('(') ? name : `@${name}`));
  if (names.length > most) shown.push(`${names.length - most} more`);
  if (unknown) shown.push('an unknown spot');
  const last = shown.pop();
  if (last === undefined) return '';
  return shown.length === 0 ? last : `${shown.join(', ')} and ${last}`;
}

/** A piece of a note in Markdown. A fence is longer than any inside (CommonMark 0.31, 4.5). */
export function fenced(text: string): string {
  const longest = Math.max(2, ...[...text.matchAll(/`+/g)].map(([run]) => run.length));
  const fence = '`'.repeat(longest + 1);
  return `${fence}tiptoe\n${text}\n${fence}`;
}

/** Words of a note as Markdown that means nothing but themselves (CommonMark 0.31, 2.4). */
export function plainly(text: string): string {
  return text.replace(/[\\`*_{}[\]<>()#+!|~&-]/g, '\\$&');
}

/** Code in a line; its delimiters are longer than any inside (CommonMark 0.31, 6.1). */
export function code(text: string): string {
  const longest = Math.max(0, ...[...text.matchAll(/`+/g)].map(([run]) => run.length));
  const tick = '`'.repeat(longest + 1);
  return longest === 0 ? `${tick}${text}${tick}` : `${tick} ${text} ${tick}`;
}

/** A text cut short, on one line. */
export function oneLine(text: string, most = 60): string {
  const line = text.replace(/\s+/g, ' ').trim();
  return line.length <= most ? line : `${line.slice(0, most - 1)}…`;
}
