import type { TokenType } from 'chevrotain';
import { scan } from '../scanner.js';
import type { Unit } from '../tree.js';

/**
 * A token or a comment of a unit. Everything between two pieces is white space, and white
 * space is all that the formatter ever changes: so it can lose nothing.
 */
export interface Piece {
  readonly text: string;
  /** Offsets inside the unit. A comment ends before the blanks at its end. */
  readonly start: number;
  readonly end: number;
  /** undefined for a comment. */
  readonly type: TokenType | undefined;
  /** Line ends between the piece before (or the start of the unit) and this one. */
  readonly breaks: number;
}

export function piecesOf(unit: Unit): Piece[] {
  const { text } = unit;
  const { tokens, comments } = scan(text, 0, text.length);
  const pieces: Piece[] = [];
  let before = 0;
  let c = 0;
  const push = (start: number, end: number, type: TokenType | undefined) => {
    const breaks = countBreaks(text, before, start);
    pieces.push({ text: text.slice(start, end), start, end, type, breaks });
    before = end;
  };
  const pushComments = (upTo: number) => {
    for (let comment = comments[c]; comment !== undefined; comment = comments[++c]) {
      if (comment.start >= upTo) return;
      const written = text.slice(comment.start, comment.end).trimEnd();
      push(comment.start, comment.start + written.length, undefined);
    }
  };
  for (const token of tokens) {
    if (c < comments.length) pushComments(token.startOffset);
    push(token.startOffset, token.end, token.tokenType);
  }
  pushComments(Infinity);
  return pieces;
}

/** Line ends in a stretch; CRLF is one, and so is a lone CR. */
export function countBreaks(text: string, from: number, to: number): number {
  let count = 0;
  for (let i = from; i < to; i++) {
    const c = text.charCodeAt(i);
    if (c === 10 || (c === 13 && text.charCodeAt(i + 1) !== 10)) count++;
  }
  return count;
}

/** White space with each line end as LF and nothing in front of a line end. */
export function keptGap(gap: string): string {
  const breaks = countBreaks(gap, 0, gap.length);
  return '\n'.repeat(breaks) + lastLine(gap);
}

/** What stands behind the last line end. */
export function lastLine(gap: string): string {
  const at = Math.max(gap.lastIndexOf('\n'), gap.lastIndexOf('\r'));
  return gap.slice(at + 1);
}
