import type { TokenType } from 'chevrotain';
import * as T from '../tokens.js';
import type { Declaration } from '../tree.js';
import type { Piece } from './pieces.js';

/** What is known of a unit's pieces before lines are chosen. */
export interface Outline {
  readonly pieces: readonly Piece[];
  /** The space in front of each piece where no line ends there. */
  readonly flat: readonly string[];
  /** Width of all pieces up to and including each one, on one line. */
  readonly width: Float64Array;
  /** For an opening bracket, the piece that closes it; -1 for all others. */
  readonly match: Int32Array;
  /** Line ends, and comments, in front of or at a piece, summed from the first on. */
  readonly breaks: Int32Array;
  readonly comments: Int32Array;
  /** The next token at or behind a piece, -1 where there is none. */
  readonly next: Int32Array;
}

const TIGHT_AFTER: ReadonlySet<TokenType> = new Set([T.LeftParen, T.LeftSquare, T.Amp, T.Slash]);
const TIGHT_BEFORE: ReadonlySet<TokenType> = new Set([
  T.RightParen, T.RightSquare, T.Amp, T.Slash, T.Comma, T.Repeat,
]); // prettier-ignore
const OPENERS: ReadonlySet<TokenType> = new Set([T.LeftParen, T.LeftSquare, T.LeftBrace]);
const CLOSERS: ReadonlySet<TokenType> = new Set([T.RightParen, T.RightSquare, T.RightBrace]);

export function isOpener(type: TokenType | undefined): boolean {
  return type !== undefined && OPENERS.has(type);
}

export function isCloser(type: TokenType | undefined): boolean {
  return type !== undefined && CLOSERS.has(type);
}

/**
 * The outline of a unit. `entries` are the offsets at which a line of a block begins
 * (a setting, a row, …). undefined where brackets do not pair up.
 */
export function outline(
  pieces: readonly Piece[],
  kind: Declaration['kind'],
  entries: ReadonlyMap<number, string>,
): Outline | undefined {
  const n = pieces.length;
  const flat: string[] = [];
  const width = new Float64Array(n);
  const match = new Int32Array(n).fill(-1);
  const breaks = new Int32Array(n);
  const comments = new Int32Array(n);
  const next = new Int32Array(n).fill(-1);
  for (let k = n - 1, at = -1; k >= 0; k--) {
    if (pieces[k]?.type !== undefined) at = k;
    next[k] = at;
  }
  const open: number[] = [];
  let before: TokenType | undefined;
  for (let k = 0; k < n; k++) {
    const piece = pieces[k];
    if (piece === undefined) continue;
    const { type } = piece;
    let gap = '';
    if (type === undefined) gap = k === 0 ? '' : '  ';
    else {
      const after = k + 1 < n ? pieces[next[k + 1] ?? -1]?.type : undefined;
      const items = kind === 'let' || (open.length > 0 && hasItems(kind));
      if (before !== undefined) {
        // Ways of a `choose` on one line stand two spaces apart.
        const way = items && isWay(before, type, after) ? '  ' : undefined;
        const separator = entries.get(piece.start) ?? way;
        gap = spaceBetween(before, type, after, items, separator);
      }
      if (isOpener(type)) open.push(k);
      else if (isCloser(type)) {
        const opener = open.pop();
        if (opener === undefined) return undefined;
        match[opener] = k;
      }
      before = type;
    }
    flat.push(gap);
    width[k] = (k > 0 ? (width[k - 1] ?? 0) : 0) + gap.length + piece.text.length;
    breaks[k] = (k > 0 ? (breaks[k - 1] ?? 0) : 0) + piece.breaks;
    comments[k] = (k > 0 ? (comments[k - 1] ?? 0) : 0) + (type === undefined ? 1 : 0);
  }
  return open.length > 0 ? undefined : { pieces, flat, width, match, breaks, comments, next };
}

function hasItems(kind: Declaration['kind']): boolean {
  return kind === 'route' || kind === 'rescue' || kind === 'seen' || kind === 'ground';
}

/** Whether a word behind `before` and in front of `after` names a way of a `choose`. */
export function isWay(
  before: TokenType | undefined,
  type: TokenType | undefined,
  after: TokenType | undefined,
): boolean {
  return type === T.Word && after === T.LeftBrace && before !== T.Choose;
}

function spaceBetween(
  before: TokenType,
  type: TokenType,
  after: TokenType | undefined,
  items: boolean,
  separator: string | undefined,
): string {
  if (TIGHT_AFTER.has(before) || TIGHT_BEFORE.has(type)) return '';
  if (before === T.LeftBrace) return type === T.RightBrace ? '' : ' ';
  // A sign belongs to its number and stands away from what is in front; a join holds both sides.
  if (type === T.Join) return after === T.Quantity ? ' ' : '';
  if (before === T.Join) return '';
  if (before === T.Plus && type === T.Quantity) return '';
  if (separator !== undefined) return separator;
  return items && type === T.Str ? '  ' : ' ';
}
