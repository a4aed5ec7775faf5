import { isFixed } from '../../rules/settings.js';
import type { Finding } from '../../text/finding.js';
import type { Point } from '../items-at.js';
import type { Put } from './types.js';

const OF_SILENCES = new Set(['silence-form', 'silence-without-reason', 'unused-silence']);
const FORMED = /^#\s*tiptoe:\s*allow\s+[a-z][a-z-]*(?:\s*,\s*[a-z][a-z-]*)*(?=\s+because\b|\s*$)/;
const REASON = 'reason';

/** Silences a rule on the line of its finding; the reason is left to the player. */
export function putSilences(
  { file, unit, start }: Point,
  findings: readonly Finding[],
  put: Put,
): void {
  const { text } = file.tree;
  const done = new Set<string>();
  for (const finding of findings) {
    const { rule, span } = finding;
    if (OF_SILENCES.has(rule) || isFixed(rule)) continue;
    const lineStart = span.start === 0 ? 0 : Math.max(text.lastIndexOf('\n', span.start - 1), text.lastIndexOf('\r', span.start - 1)) + 1; // prettier-ignore
    if (done.has(`${lineStart} ${rule}`)) continue;
    done.add(`${lineStart} ${rule}`);
    const lineEnd = lineStart + (/^[^\r\n]*/.exec(text.slice(lineStart))?.[0].length ?? 0);
    const title = `Allow ${rule} on this line, with a reason`;
    const common = { kind: 'silence', safety: 'safe', title, finding } as const;
    const comment = unit.comments.find((each) => each.start + start >= lineStart && each.start + start <= lineEnd); // prettier-ignore
    const written = comment && unit.text.slice(comment.start, comment.end);
    const silence = written === undefined ? undefined : FORMED.exec(written)?.[0];
    if (comment !== undefined && silence !== undefined) {
      const at = start + comment.start + silence.length;
      put({ ...common, title: `Allow ${rule} too on this line`, edits: [{ span: { start: at, end: at }, text: `, ${rule}` }] }); // prettier-ignore
      continue;
    }
    const words = `# tiptoe: allow ${rule} because ${REASON}`;
    if (comment === undefined) {
      const line = text.slice(lineStart, lineEnd).trimEnd();
      const at = lineStart + line.length;
      const added = `  ${words}`;
      const end = at + added.length;
      put({ ...common, edits: [{ span: { start: at, end: at }, text: added }], placeholder: { start: end - REASON.length, end } }); // prettier-ignore
      continue;
    }
    // What is behind a comment is a part of it: the silence gets a line of its own.
    const indent = /^[ \t]*/.exec(text.slice(lineStart))?.[0] ?? '';
    const added = indent + words;
    const end = lineStart + added.length;
    const eol = text.includes('\r\n') ? '\r\n' : '\n';
    put({ ...common, edits: [{ span: { start: lineStart, end: lineStart }, text: added + eol }], placeholder: { start: end - REASON.length, end } }); // prettier-ignore
  }
}
