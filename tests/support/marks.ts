import type { Span } from '@core/text/span.js';

/**
 * Tests as text.
 *
 * - `|` is the cursor (`cursor`); write `\|` for the sign itself.
 * - A line of blanks and `^` under a source line labels what stands above the `^`s:
 *   `   ^^^ some words`. It is taken out of the text and becomes a `Label`. A single `^` may
 *   stand behind the end of the line; `^|` means the empty span in front of the sign above it.
 * - `//- name.tiptoe` begins a file of several (`files`).
 */
export interface Label {
  readonly span: Span;
  readonly words: string;
}

export interface Marked {
  readonly text: string;
  readonly labels: readonly Label[];
}

const LABEL = /^ *(\^\|?|\^+)(?: (.*))?$/;

/** Takes the label lines out of a text. */
export function labels(marked: string): Marked {
  const found: Label[] = [];
  const kept: string[] = [];
  let above = 0;
  let length = 0;
  for (const line of marked.split('\n')) {
    const label = LABEL.exec(line);
    if (label !== null) {
      const sign = label[1] ?? '';
      const start = above + line.indexOf('^');
      const end = sign === '^|' ? start : start + sign.length;
      found.push({ span: { start, end }, words: (label[2] ?? '').trim() });
      continue;
    }
    above = length;
    kept.push(line);
    length += line.length + 1;
  }
  return { text: kept.join('\n'), labels: found };
}

/** The text with its labels drawn in, for a comparison that can be read. */
export function withLabels(text: string, found: readonly Label[]): string {
  const lines = text.split('\n');
  const out: string[] = [];
  let start = 0;
  for (const [k, line] of lines.entries()) {
    out.push(line);
    const end = start + line.length + 1;
    const last = k === lines.length - 1;
    for (const { span, words } of found) {
      if (span.start < start || (span.start >= end && !last)) continue;
      const sign = span.end === span.start ? '^|' : '^'.repeat(span.end - span.start);
      out.push(`${' '.repeat(span.start - start)}${sign} ${words}`.trimEnd());
    }
    start = end;
  }
  return out.join('\n');
}

/** Takes the one cursor out of a text. */
export function cursor(marked: string): { text: string; offset: number } {
  const at = marked.search(/(?<!\\)\|/);
  if (at < 0) throw new Error('the text has no cursor "|"');
  const text = marked.slice(0, at) + marked.slice(at + 1);
  if (/(?<!\\)\|/.test(text)) throw new Error('the text has more than one cursor "|"');
  const escapes = marked.slice(0, at).match(/\\\|/g)?.length ?? 0;
  return { text: text.replaceAll('\\|', '|'), offset: at - escapes };
}

/** The files of a text, by name, in order. Without a `//-` line it is one file, `note.tiptoe`. */
export function files(marked: string): Map<string, string> {
  const found = new Map<string, string>();
  let name = 'note.tiptoe';
  let lines: string[] = [];
  const end = () => {
    if (lines.length > 0) found.set(name, lines.join('\n'));
  };
  for (const line of marked.split('\n')) {
    const header = /^\/\/- (\S+)$/.exec(line)?.[1];
    if (header === undefined) {
      lines.push(line);
      continue;
    }
    if (found.size > 0 || lines.some((l) => l !== '')) end();
    name = header;
    lines = [];
  }
  end();
  return found;
}
