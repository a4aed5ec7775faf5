import type { SourceFile } from '../../model/program.js';
import type { Span } from '../../text/span.js';
import { LineIndex } from '../../text/lines.js';

/** A comment `# tiptoe: allow rule, rule because reason`, as far as it could be read. */
export interface Silence {
  readonly span: Span;
  /** The rules that it names, each with its place. */
  readonly rules: readonly { readonly name: string; readonly span: Span }[];
  readonly reason: string;
  /** Whether it begins with `allow` and names a rule at all. */
  readonly formed: boolean;
  /** The line (from 1) whose findings it silences; 0 where nothing follows. */
  readonly line: number;
}

const MARK = /^#\s*tiptoe:/;
const FORM =
  /^(#\s*tiptoe:\s*allow\s+)([a-z][a-z-]*(?:\s*,\s*[a-z][a-z-]*)*)(?:\s+because\b[:\s]*(.*))?(.*)$/s;

/** The silences of a file, with the line that each one is for. */
export function silencesOf(file: SourceFile): Silence[] {
  const { text, units } = file.tree;
  if (!text.includes('tiptoe:')) return [];
  const found: Silence[] = [];
  let lines: LineIndex | undefined;
  for (const { unit, start } of units) {
    for (const comment of unit.comments) {
      const written = unit.text.slice(comment.start, comment.end);
      if (!MARK.test(written)) continue;
      lines ??= new LineIndex(text);
      const span = { start: start + comment.start, end: start + comment.end };
      found.push({ span, ...parts(written, span.start), line: lineFor(span.start, lines) });
    }
  }
  return found;
}

function parts(written: string, at: number): Pick<Silence, 'rules' | 'reason' | 'formed'> {
  const match = FORM.exec(written);
  const [, head = '', list = '', reason = '', rest = ''] = match ?? [];
  if (match === null || rest.trim() !== '') return { rules: [], reason: '', formed: false };
  const rules = [...list.matchAll(/[a-z][a-z-]*/g)].map(([name], _) => name);
  let from = at + head.length;
  const placed = rules.map((name) => {
    const start = from + list.slice(from - at - head.length).indexOf(name);
    from = start + name.length;
    return { name, span: { start, end: from } };
  });
  return { rules: placed, reason: reason.trim(), formed: true };
}

/** Its own line, or where it stands alone the next line that is not a comment. */
function lineFor(offset: number, lines: LineIndex): number {
  const own = lines.lineAt(offset);
  const before = lines.text.slice(lines.startOf(own), offset);
  if (before.replace('\ufeff', '').trim() !== '') return own;
  for (let line = own + 1; line <= lines.lineCount; line++) {
    const text = lines.lineText(line).trim();
    if (text !== '' && !text.startsWith('#')) return line;
  }
  return 0;
}
