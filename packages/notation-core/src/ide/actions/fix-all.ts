import { loadProgram } from '../../model/program.js';
import { checkFile } from '../../rules/check.js';
import { applyFixes } from '../../rules/fixes.js';
import type { Finding } from '../../text/finding.js';
import type { TextEdit } from '../../text/edit.js';
import type { Analysis } from '../analysis.js';
import { many } from '../words.js';

/** What mending everything that is safe to mend comes to. */
export interface FixAll {
  /** `Mend 3 findings; 1 is left to you: its fix changes timing`. */
  readonly title: string;
  readonly edits: readonly TextEdit[];
  readonly applied: number;
  /** What the text still has, with places in the text after the edits. */
  readonly left: readonly Finding[];
}

/** Applies the fixes of a file that leave the input the same, and says what it left. */
export function fixAll(analysis: Analysis, path: string): FixAll | undefined {
  const file = analysis.file(path);
  if (file === undefined) return undefined;
  const { program, settings } = analysis;
  const check = (text: string): readonly Finding[] => {
    if (text === file.tree.text) return analysis.findings(file);
    const read = (asked: string) => {
      if (asked === path) return { text };
      const known = program.files.get(asked);
      return known === undefined ? { reason: 'there is no such file' } : { text: known.tree.text };
    };
    const known = (asked: string) => (asked === path ? undefined : program.files.get(asked)?.tree);
    const changed = loadProgram([path], read, known);
    const now = changed.files.get(path);
    return now === undefined ? [] : checkFile(changed, now, settings);
  };
  const { text, applied, left } = applyFixes(file.tree.text, check, 'safe');
  return { title: titleOf(applied, left), edits: difference(file.tree.text, text), applied, left };
}

function titleOf(applied: number, left: readonly Finding[]): string {
  const mended = `Mend ${many(applied, 'finding')} whose fix is safe`;
  if (left.length === 0) return mended;
  const timing = left.filter(({ fixes }) =>
    fixes.some(({ safety }) => safety === 'changes-timing'),
  );
  const asked = left.filter(({ fixes }) => fixes.length > 0 && fixes.every(({ safety }) => safety === 'suggestion')); // prettier-ignore
  const parts = [
    timing.length > 0 ? `${timing.length} whose fix changes timing` : '',
    asked.length > 0 ? `${asked.length} with a choice of fixes` : '',
  ].filter((part) => part !== '');
  const of = parts.length === 0 ? '' : `, ${parts.join(', ')}`;
  return `${mended}; ${left.length} left to you${of}`;
}

/** One edit for each line that differs, where both texts have as many lines; else one in all. */
function difference(before: string, after: string): TextEdit[] {
  if (before === after) return [];
  const [a, b] = [lines(before), lines(after)];
  if (a.length !== b.length) return [trimmed(before, after, 0)];
  const edits: TextEdit[] = [];
  let at = 0;
  a.forEach((old, i) => {
    const fresh = b[i] ?? '';
    if (old !== fresh) edits.push(trimmed(old, fresh, at));
    at += old.length;
  });
  return edits;
}

function lines(text: string): string[] {
  return text.match(/[^\n]*\n|[^\n]+/g) ?? [];
}

function trimmed(before: string, after: string, at: number): TextEdit {
  let start = 0;
  const most = Math.min(before.length, after.length);
  while (start < most && before[start] === after[start]) start++;
  let end = 0;
  while (end < most - start && before[before.length - 1 - end] === after[after.length - 1 - end])
    end++;
  return {
    span: { start: at + start, end: at + before.length - end },
    text: after.slice(start, after.length - end),
  };
}
