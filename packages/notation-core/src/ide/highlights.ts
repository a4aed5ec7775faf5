import type { Span } from '../text/span.js';
import type { Analysis } from './analysis.js';
import { mentionAt, mentionsNear } from './names.js';

/** A place of the file that names the same as the cursor. */
export interface Highlight extends Span {
  /** Whether the name is given here, or only spoken of. */
  readonly declares: boolean;
}

/** The places of a file that name what the cursor is on, in the order of the text. */
export function highlights(analysis: Analysis, path: string, offset: number): Highlight[] {
  const mention = mentionAt(analysis, path, offset);
  if (mention === undefined) return [];
  return mentionsNear(analysis, mention).map(({ start, end, declares }) => ({
    start, end, declares,
  })); // prettier-ignore
}
