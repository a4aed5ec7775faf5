import type { Analysis, FileSpan } from './analysis.js';
import { mentionAt, mentionsOf } from './names.js';

/** A place that names what was asked for: the name alone, a spot without its `@`. */
export interface Reference extends FileSpan {
  /** Whether the name is given here. */
  readonly declares: boolean;
}

/**
 * Every place that names what the cursor is on, in all files that mean the same by the name:
 * inputs letter by letter, spots in claims, logs and headers, phrases, and so on. `declarations`
 * says whether the places that give the name are wanted too.
 */
export function references(
  analysis: Analysis,
  path: string,
  offset: number,
  declarations = true,
): Reference[] {
  const mention = mentionAt(analysis, path, offset);
  if (mention === undefined) return [];
  const found: Reference[] = [];
  for (const { path: at, start, end, declares } of mentionsOf(analysis, mention)) {
    if (declarations || !declares) found.push({ path: at, start, end, declares });
  }
  return found;
}
