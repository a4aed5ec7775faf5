import type { LineIndex } from '../../text/lines.js';

/** Columns that a text takes on a terminal. */
export type Width = (text: string) => number;

export interface Excerpt {
  /** The line, or the part of it around the span; tabs are spaces, control characters show as U+FFFD. */
  readonly line: string;
  /** Spaces, then the marks that stand under the span. */
  readonly marks: string;
}

const TAB = 4;
/** Text on either side of a span that is looked at; no terminal shows more of one line. */
const REACH = 400;
const CUT = '…';

/** One thing that a terminal shows as one: a letter with its accents, an emoji, a tab as spaces. */
interface Cell {
  readonly shown: string;
  readonly width: number;
  readonly start: number;
  readonly end: number;
}

/**
 * The line on which a span begins, in at most `room` columns, with marks under the span as far as it
 * goes on that line. An empty span has one mark. Costs the same however long the line is.
 */
export function excerpt(
  lines: LineIndex,
  span: { readonly start: number; readonly end: number },
  room: number,
  width: Width,
): Excerpt {
  const { text } = lines;
  const line = lines.lineAt(span.start);
  const first = lines.startOf(line);
  const last = endOfLine(text, lines.startOf(line + 1), first);
  const from = whole(text, Math.max(first, span.start - REACH));
  const to = whole(text, Math.min(last, span.start + REACH));
  const cells = cellsOf(text, from, to, width);
  const marked = cells.map((cell) => cell.start < span.end && cell.end > span.start);

  let begin = 0;
  let end = cells.length;
  let used = cells.reduce((sum, cell) => sum + cell.width, 0);
  const found = cells.findIndex((cell) => cell.end > span.start);
  const spanFrom = found < 0 ? cells.length : found;
  // Keep a third of the room in front of the span, drop the rest from both sides until it fits.
  const lead = Math.floor(room / 3);
  let before = cells.slice(0, spanFrom).reduce((sum, cell) => sum + cell.width, 0);
  while (used > room - 2 && before > lead) {
    const gone = cells[begin++]?.width ?? 0;
    used -= gone;
    before -= gone;
  }
  while (used > room - 2 && end > begin + 1) used -= cells[--end]?.width ?? 0;

  const cutFront = begin > 0 || from > first ? CUT : '';
  const cutBack = end < cells.length || to < last ? CUT : '';
  let shown = cutFront;
  let marks = ' '.repeat(cutFront.length);
  let any = false;
  for (let k = begin; k < end; k++) {
    const cell = cells[k];
    if (cell === undefined) continue;
    shown += cell.shown;
    const mark = marked[k] === true && cell.width > 0;
    any ||= mark;
    marks += (mark ? '^' : ' ').repeat(cell.width);
  }
  if (!any) marks = pointAt(cells.slice(begin, end), span.start, cutFront.length);
  return { line: shown + cutBack, marks: marks.trimEnd() };
}

/** One mark where nothing is wide enough to be marked: an empty span, or the end of the line. */
function pointAt(cells: readonly Cell[], offset: number, indent: number): string {
  let column = indent;
  for (const cell of cells) {
    if (cell.end > offset) break;
    column += cell.width;
  }
  return `${' '.repeat(column)}^`;
}

function endOfLine(text: string, next: number, first: number): number {
  let end = next;
  while (end > first && (text[end - 1] === '\n' || text[end - 1] === '\r')) end--;
  return end;
}

/** Not between the two halves of a character. */
function whole(text: string, at: number): number {
  const half = text.charCodeAt(at) >> 10 === 0x37;
  return half && at > 0 && text.charCodeAt(at - 1) >> 10 === 0x36 ? at - 1 : at;
}

const CONTROL = /[\p{Cc}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/u;
let graphemes: Intl.Segmenter | undefined;

function cellsOf(text: string, from: number, to: number, width: Width): Cell[] {
  const part = text.slice(from, to);
  const cells: Cell[] = [];
  let column = 0;
  const add = (written: string, start: number) => {
    const tab = written === '\t';
    const shown = tab
      ? ' '.repeat(TAB - (column % TAB))
      : CONTROL.test(written)
        ? '\ufffd'
        : written;
    const wide = tab ? shown.length : shown === '\ufffd' ? 1 : width(shown);
    cells.push({ shown, width: wide, start, end: start + written.length });
    column += wide;
  };
  if (isAscii(part)) {
    for (let k = 0; k < part.length; k++) add(part.charAt(k), from + k);
  } else {
    graphemes ??= new Intl.Segmenter('en', { granularity: 'grapheme' });
    for (const { segment, index } of graphemes.segment(part)) add(segment, from + index);
  }
  return cells;
}

/** Each character one column, and no segmenter needed. */
export function isAscii(text: string): boolean {
  for (let k = 0; k < text.length; k++) if (text.charCodeAt(k) > 126) return false;
  return true;
}
