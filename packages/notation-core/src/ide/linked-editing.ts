import type { Span } from '../text/span.js';
import type { Analysis } from './analysis.js';
import { type Mention, mentionAt, mentionsNear } from './names.js';

/** Places that are typed over together, and what a name may hold, as a regular expression. */
export interface Linked {
  readonly spans: readonly Span[];
  readonly wordPattern: string;
}

/** Written without classes of Unicode, which need a flag that not every editor gives. */
const NAME = '[^\\s@:,{}()\\[\\]"#&*.~=+>/-]+';

/**
 * What changes with a spot while its name is typed over: the places that name it in the same
 * route, rescue or log (header, claims, `until`), and its declaration in the file. From the
 * declaration itself this goes where one other declaration of the file names the spot; where
 * several do, renaming is what is meant. Nothing where the spot stands alone.
 */
export function linkedEditing(
  analysis: Analysis,
  path: string,
  offset: number,
): Linked | undefined {
  const mention = mentionAt(analysis, path, offset);
  if (mention?.kind !== 'spot') return undefined;
  const all = mentionsNear(analysis, mention);
  const units = new Set(all.filter(({ declares }) => !declares).map(({ placed }) => placed.unit));
  const [only] = units;
  if (mention.declares && units.size !== 1) return undefined;
  const unit = mention.declares ? only : mention.placed.unit;
  const spans = all.filter((each: Mention) => each.declares || each.placed.unit === unit);
  if (spans.length < 2) return undefined;
  return { spans: spans.map(({ start, end }) => ({ start, end })), wordPattern: NAME };
}
