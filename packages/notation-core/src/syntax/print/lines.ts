import * as T from '../tokens.js';
import type { Declaration } from '../tree.js';
import type { Entry } from './entries.js';
import type { Piece } from './pieces.js';
import { isCloser, isOpener, isWay, type Outline } from './spaces.js';

export const LINE_WIDTH = 100;
const INDENT = 2;
/** Deeper levels are not indented further, so that depth cannot multiply the size of a text. */
const DEEPEST = 24;

/** How a gap may break: where its author broke (0), never (1), or as 0 but indented by 1 or 2 levels. */
type Mode = 0 | 1 | 2 | 3;

/** A line of a block as a range of pieces; `joined` where it is certain to be one line. */
export interface LaidEntry {
  readonly kind: Entry['kind'];
  readonly from: number;
  readonly to: number;
  readonly joined: boolean;
}

interface Frame {
  readonly broken: boolean;
  /** Each line of the block on a line of its own, whatever its author did. */
  readonly oneEach: boolean;
}

/**
 * The white space in front of each piece (the first one's excepted). A block stays on one
 * line where its author wrote it on one and it fits; items keep their author's lines; a
 * header and each line of a block are one line where they fit and no comment cuts them.
 */
export function lineGaps(
  kind: Declaration['kind'],
  o: Outline,
  entries: readonly Entry[],
): { gaps: string[]; laid: readonly LaidEntry[] } {
  const { pieces, flat, width, match, breaks, comments, next } = o;
  const { modes, laid } = ranges(kind, o, entries);
  const starts = new Set(entries.map((entry) => entry.start));
  const gaps: string[] = [''];
  const frames: Frame[] = [];
  const last = pieces.length - 1;
  const head = next[0] ?? -1;
  let column = width[0] ?? 0;
  let prior: Piece | undefined;
  let closedBroken = false;
  for (let k = 0; k <= last; k++) {
    const piece = pieces[k];
    if (piece === undefined) continue;
    const { type } = piece;
    const top = frames[frames.length - 1];
    if (k > 0) {
      const gap = newLine(k, piece, top) ? lineEnd(k, piece) : (flat[k] ?? '');
      gaps.push(gap);
      const indent = gap.lastIndexOf('\n');
      column = (indent < 0 ? column + gap.length : gap.length - indent - 1) + piece.text.length;
    }
    closedBroken = false;
    if (isOpener(type)) frames.push(frameAt(k, type === T.LeftBrace));
    else if (isCloser(type)) closedBroken = frames.pop()?.broken === true;
    prior = piece;
  }
  return { gaps, laid };

  function newLine(k: number, piece: Piece, top: Frame | undefined): boolean {
    const { type } = piece;
    if (prior?.type === undefined) return true;
    if (type === undefined) return piece.breaks > 0;
    if (type === T.RightBrace) return top?.broken === true;
    if (prior.type === T.LeftBrace) return top?.broken === true;
    const mode = modes[k] as Mode;
    if (mode === 1) return false;
    if (top?.oneEach === true && startsEntry(k, piece)) return true;
    const bracket = isOpener(prior.type) || isCloser(type);
    if (!bracket && (flat[k] === '' || HELD_AFTER.has(prior.type) || HELD_BEFORE.has(type))) {
      return false;
    }
    if (closedBroken && prior.type === T.RightBrace && type !== T.Spot && type !== T.Str) {
      return true;
    }
    return piece.breaks > 0;
  }

  function startsEntry(k: number, piece: Piece): boolean {
    if (starts.has(piece.start)) return true;
    return entries.length === 0 && isWay(prior?.type, piece.type, pieces[next[k + 1] ?? -1]?.type);
  }

  function lineEnd(k: number, piece: Piece): string {
    const target = next[k] ?? -1;
    let level = 0;
    if (target > head) {
      level = frames.length + (kind === 'let' ? 1 : 0);
      if (piece.type !== undefined && isCloser(piece.type)) level--;
      const mode = modes[target] as Mode;
      const brace = pieces[target]?.type === T.LeftBrace;
      if (mode > 1 && !brace && !isCloser(pieces[target]?.type)) level += mode - 1;
    }
    const blank = piece.breaks > 1 && !isOpener(prior?.type) && !isCloser(piece.type);
    return (blank ? '\n\n' : '\n') + ' '.repeat(INDENT * Math.min(level, DEEPEST));
  }

  function frameAt(k: number, brace: boolean): Frame {
    if (!brace) return { broken: false, oneEach: false };
    const close = match[k] ?? k;
    const inside = (breaks[close] ?? 0) - (breaks[k] ?? 0);
    const whole = kind === 'rescue' && frames.length === 0 ? last : close;
    const fits = column + (width[whole] ?? 0) - (width[k] ?? 0) <= LINE_WIDTH;
    const broken =
      (comments[close] ?? 0) > (comments[k] ?? 0) ||
      (modes[k + 1] !== 1 && close > k + 1 && (inside > 0 || !fits));
    const word = pieces[k - 1]?.type === T.Word ? pieces[k - 1]?.text : undefined;
    // Inputs, and the settings of a pause or of hands, may share a line.
    const shares = kind === 'hands' || (kind === 'game' && frames.length > 0);
    const choose = word !== undefined && pieces[k - 2]?.type === T.Choose;
    const items = (kind === 'route' || kind === 'rescue') && !choose;
    return { broken, oneEach: broken && (inside === 0 || (!shares && !items)) };
  }
}

const HELD_AFTER = new Set([T.Choose, T.Pace, T.Until, T.Arrow, T.By, T.Let, T.From, T.To, T.In]);
const HELD_BEFORE = new Set([T.LeftBrace, T.Until, T.Equals, T.Arrow]);

/** Chooses the mode of each gap in a header or in a line of a block. */
function ranges(kind: Declaration['kind'], o: Outline, entries: readonly Entry[]) {
  const { pieces, width, comments } = o;
  const modes = new Uint8Array(pieces.length + 1);
  const laid: LaidEntry[] = [];
  const mark = (from: number, to: number, indent: number, otherwise: Mode): boolean => {
    const clean = (comments[to] ?? 0) === (comments[from] ?? 0);
    const long = indent + (pieces[from]?.text.length ?? 0) + (width[to] ?? 0) - (width[from] ?? 0);
    const joined = clean && long <= LINE_WIDTH;
    modes.fill(joined ? 1 : otherwise, from + 1, to + 1);
    return joined;
  };
  const head = o.next[0] ?? -1;
  if (head >= 0) mark(head, headerEnd(kind, pieces, head), 0, 3);
  let from = 0;
  for (const entry of entries) {
    while (from < pieces.length && (pieces[from]?.start ?? 0) < entry.start) from++;
    const whole = entry.kind === 'row' || entry.kind === 'move';
    let to = from;
    while (to + 1 < pieces.length && (pieces[to + 1]?.start ?? 0) < entry.end) {
      // A block behind a setting has lines of its own.
      if (!whole && pieces[to]?.type === T.LeftBrace) break;
      to++;
    }
    laid.push({ kind: entry.kind, from, to, joined: mark(from, to, whole ? INDENT : 0, 2) });
  }
  return { modes, laid };
}

/** The last piece of a declaration's header: its brace, the `=` of a phrase, or its end. */
function headerEnd(kind: Declaration['kind'], pieces: readonly Piece[], head: number): number {
  const stop = kind === 'let' ? T.Equals : T.LeftBrace;
  let lastToken = head;
  for (let k = head; k < pieces.length; k++) {
    const type = pieces[k]?.type;
    if (type === stop) return k;
    if (type !== undefined) lastToken = k;
  }
  return lastToken;
}
