import type { Analysis } from './analysis.js';
import { itemHover } from './hover/items.js';
import { nameHover } from './hover/names.js';
import type { Hover, UnitHover } from './hover/types.js';
import { silenceHover, wordHover } from './hover/words.js';
import { type Point, pointAt } from './items-at.js';

export type { Hover } from './hover/types.js';

const PROVIDERS: readonly ((point: Point) => UnitHover)[] = [
  silenceHover,
  nameHover,
  itemHover,
  wordHover,
];

/**
 * Hover: an item in ticks, frames and milliseconds, where it starts and lands and on how many
 * sightings; a spot's rows, a phrase written out, what an input, a setting or a word means, and
 * the page of a rule in a silence. Only the declaration at the place is looked at.
 */
export function hover(analysis: Analysis, path: string, offset: number): Hover | undefined {
  const point = pointAt(analysis, path, offset);
  if (point === undefined) return undefined;
  for (const provider of PROVIDERS) {
    const found = provider(point);
    if (found === undefined) continue;
    const { start, end } = found.span;
    return { span: { start: start + point.start, end: end + point.start }, text: found.text };
  }
  return undefined;
}
