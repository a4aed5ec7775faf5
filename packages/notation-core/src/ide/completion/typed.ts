import { type ScannedToken, scan } from '../../syntax/scanner.js';
import * as T from '../../syntax/tokens.js';
import { countFrom, type Point } from '../items-at.js';

/** What stands in front of a place, as far as the declaration goes. */
export interface Typed {
  /** The beginning of a word at the place, with a `@` in front of it. */
  readonly word: string;
  /** Where it begins, counted from the start of the unit. */
  readonly start: number;
  /** The tokens in front of the word; those of a log or a ground from its row on. */
  readonly tokens: readonly ScannedToken[];
  /** The brackets that are open there, the innermost last; each by its place in `tokens`. */
  readonly open: readonly number[];
  /** Whether a part of the text that is in front of `tokens` was left out: then the row is inside a block. */
  readonly inRow: boolean;
  readonly inComment: boolean;
  readonly inText: boolean;
}

/** Reads the tokens in front of a place, no more than the row in long blocks. */
export function typedAt({ unit, at }: Point): Typed {
  const { text, declaration, comments } = unit;
  const from = rowStart(declaration, at);
  const word = /@?[\p{L}\p{N}_]*$/u.exec(text.slice(Math.max(from, at - 200), at))?.[0] ?? '';
  const start = at - word.length;
  const inComment = comments.some((each) => each.start < at && at <= each.end);
  const { tokens } = scan(text, from, at);
  const front = tokens.filter((token) => token.startOffset + from < start);
  const last = tokens[tokens.length - 1];
  const inText =
    last?.tokenType === T.Str &&
    last.end + from === at &&
    !closed(text, last.startOffset + from, at);
  const open: number[] = [];
  front.forEach(({ tokenType }, i) => {
    if (OPENERS.has(tokenType)) open.push(i);
    else if (CLOSERS.has(tokenType)) open.pop();
  });
  return { word, start, tokens: front, open, inRow: from > 0, inComment, inText };
}

const OPENERS = new Set([T.LeftBrace, T.LeftParen, T.LeftSquare]);
const CLOSERS = new Set([T.RightBrace, T.RightParen, T.RightSquare]);

/** Where the row of a block begins that holds the place; 0 where tokens are read from the start. */
function rowStart(declaration: Point['unit']['declaration'], at: number): number {
  if (declaration.kind !== 'seen' && declaration.kind !== 'ground') return 0;
  const rows = declaration.kind === 'seen' ? declaration.rows : declaration.moves;
  const row = rows[countFrom(rows, at) - 1];
  if (row === undefined || at > declaration.end) return 0;
  if (declaration.kind === 'ground' && 'by' in row) return row.body[0]?.start ?? row.start;
  return row.start;
}

function closed(text: string, start: number, end: number): boolean {
  if (end - start < 2 || text.charAt(end - 1) !== '"') return false;
  const slashes = /\\*$/.exec(text.slice(start + 1, end - 1))?.[0].length ?? 0;
  return slashes % 2 === 0;
}
