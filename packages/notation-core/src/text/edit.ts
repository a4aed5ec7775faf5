import type { Span } from './span.js';

/** Replace the text of `span` by `text`. Spans of one list of edits never overlap. */
export interface TextEdit {
  readonly span: Span;
  readonly text: string;
}

/**
 * The text after all edits. Edits may come in any order; two that overlap are a
 * programming error and throw, since applying either one would corrupt the other.
 */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  const sorted = [...edits].sort((a, b) => a.span.start - b.span.start || a.span.end - b.span.end);
  const parts: string[] = [];
  let at = 0;
  for (const edit of sorted) {
    if (edit.span.start < at) throw new RangeError(`edits overlap at offset ${edit.span.start}`);
    parts.push(text.slice(at, edit.span.start), edit.text);
    at = edit.span.end;
  }
  parts.push(text.slice(at));
  return parts.join('');
}

export function editsOverlap(a: readonly TextEdit[], b: readonly TextEdit[]): boolean {
  return a.some((x) =>
    b.some(
      (y) =>
        (x.span.start < y.span.end && y.span.start < x.span.end) || x.span.start === y.span.start,
    ),
  );
}
