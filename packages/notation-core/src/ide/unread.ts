import type { SourceFile } from '../model/program.js';
import type { Unit } from '../syntax/tree.js';
import type { FileSpan } from './analysis.js';
import { isLocal, type Mention } from './names.js';
import { occurrencesOf } from './occurrences.js';

const WORD = '[\\p{L}\\p{M}\\p{N}_]';

/**
 * Where a name seems to stand in declarations with something in them that cannot be read, and
 * the tree knows nothing of it. Comments and texts in quotes are left out.
 */
export function unread(files: Iterable<SourceFile>, mention: Mention): FileSpan[] {
  const { kind, name } = mention;
  const pattern =
    kind === 'input'
      ? new RegExp(`(?<!${WORD}|@)[A-Z]+(?![a-z])`, 'gu')
      : new RegExp(`(?<!${WORD}${kind === 'spot' ? '' : '|@'})${kind === 'spot' ? '@' : ''}${name}(?!${WORD})`, 'gu'); // prettier-ignore
  const found: FileSpan[] = [];
  for (const { path, tree } of files) {
    for (const { unit, start } of tree.units) {
      if (unit.problems.length === 0 || !unit.text.includes(name)) continue;
      if (isLocal(kind) && unit !== mention.placed.unit) continue;
      const read = new Set(occurrencesOf(unit).map((each) => each.start));
      for (const { index, 0: match } of spoken(unit).matchAll(pattern)) {
        for (let k = match.indexOf(name); k >= 0; k = match.indexOf(name, k + 1)) {
          const at = index + k;
          if (read.has(at)) continue;
          found.push({ path, start: start + at, end: start + at + name.length });
        }
      }
    }
  }
  return found;
}

/** The text of a unit with blanks in place of its comments and of what stands in quotes. */
function spoken({ text, comments }: Unit): string {
  let out = '';
  let at = 0;
  for (const { start, end } of comments) {
    out += text.slice(at, start) + ' '.repeat(end - start);
    at = end;
  }
  out += text.slice(at);
  return out.replace(/"(?:\\["\\]|[^"\r\n])*"?/g, (quoted) => ' '.repeat(quoted.length));
}
