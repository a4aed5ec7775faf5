import type { Position, Range } from 'vscode-languageserver-protocol';

/** How a client counts the characters of a line (LSP 3.17, Position). */
export type Encoding = 'utf-8' | 'utf-16' | 'utf-32';

/** Encodings that the server speaks; UTF-16 is the protocol's own where a client names none. */
const ENCODINGS: readonly string[] = ['utf-8', 'utf-16', 'utf-32'];

/** The first of a client's encodings that the server speaks. */
export function chooseEncoding(offered: readonly string[] | undefined): Encoding {
  const chosen = offered?.find((each) => ENCODINGS.includes(each));
  return (chosen ?? 'utf-16') as Encoding;
}

/** Replace the characters from `start` to `end` (UTF-16 units of the whole text) by `text`. */
export interface Change {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** A text and where its lines begin. LF, CRLF and a lone CR end a line, as in the protocol. */
export class Lines {
  /** Where the last question was answered: the next is often further on in the same line. */
  #known = { start: 0, offset: 0, column: 0, encoding: 'utf-16' as Encoding };

  private constructor(
    readonly text: string,
    readonly starts: Uint32Array,
  ) {}

  static of(text: string): Lines {
    return new Lines(text, Uint32Array.from(scan(text, 1, text.length, [0])));
  }

  get count(): number {
    return this.starts.length;
  }

  /** The text after a change. The lines around it are found again, the others are moved. */
  changed({ start, end, text }: Change): Lines {
    const whole = this.text.slice(0, start) + text + this.text.slice(end);
    const { starts } = this;
    // Whether a line begins at an offset, the characters before and at it say: one more to look at.
    const before = Math.max(1, firstFrom(starts, start));
    const after = firstFrom(starts, end + 1);
    const between = scan(whole, Math.max(1, start), start + text.length, []);
    const shift = text.length - (end - start);
    const moved = new Uint32Array(before + between.length + starts.length - after);
    moved.set(starts.subarray(0, before));
    moved.set(between, before);
    for (let i = after, to = before + between.length; i < starts.length; i++, to++) {
      moved[to] = (starts[i] ?? 0) + shift;
    }
    return new Lines(whole, moved);
  }

  /** The offset of a position; what lies beyond a line or the text is its end. */
  offsetAt({ line, character }: Position, encoding: Encoding): number {
    if (line >= this.starts.length) return this.text.length;
    const start = this.starts[line] ?? 0;
    const end = this.#endOf(line);
    if (encoding === 'utf-16') return Math.min(start + character, end);
    let left = character;
    let at = start;
    while (at < end && left > 0) {
      const units = unitsAt(this.text, at, end);
      left -= sizeOf(this.text.charCodeAt(at), units, encoding);
      if (left < 0) break;
      at += units;
    }
    return at;
  }

  positionAt(offset: number, encoding: Encoding): Position {
    const line = this.lineAt(offset);
    const start = this.starts[line] ?? 0;
    if (encoding === 'utf-16') return { line, character: offset - start };
    const known = this.#known;
    const on = known.encoding === encoding && known.start === start && known.offset <= offset;
    let at = on ? known.offset : start;
    let column = on ? known.column : 0;
    while (at < offset) {
      const units = unitsAt(this.text, at, this.text.length);
      if (at + units > offset) break;
      column += sizeOf(this.text.charCodeAt(at), units, encoding);
      at += units;
    }
    this.#known = { start, offset: at, column, encoding };
    return { line, character: column };
  }

  rangeOf({ start, end }: { start: number; end: number }, encoding: Encoding): Range {
    return { start: this.positionAt(start, encoding), end: this.positionAt(end, encoding) };
  }

  /** The line, counted from 0, that holds an offset. */
  lineAt(offset: number): number {
    return Math.max(0, firstFrom(this.starts, offset + 1) - 1);
  }

  /** Behind the last character of a line that is not of its line end. */
  #endOf(line: number): number {
    const next = this.starts[line + 1];
    if (next === undefined) return this.text.length;
    const crlf = this.text.charCodeAt(next - 1) === 10 && this.text.charCodeAt(next - 2) === 13;
    return Math.max(this.starts[line] ?? 0, next - (crlf ? 2 : 1));
  }
}

/** Adds the offsets from `from` to `to`, both included, at which lines begin. */
function scan(text: string, from: number, to: number, starts: number[]): number[] {
  for (let at = from; at <= to; at++) {
    const c = text.charCodeAt(at - 1);
    if (c === 10 || (c === 13 && text.charCodeAt(at) !== 10)) starts.push(at);
  }
  return starts;
}

/** The index of the first number in a sorted list that is not below `least`. */
function firstFrom(sorted: Uint32Array, least: number): number {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] ?? 0) < least) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** 2 at a surrogate pair, else 1. */
function unitsAt(text: string, at: number, end: number): number {
  const c = text.charCodeAt(at);
  if (c < 0xd800 || c > 0xdbff || at + 1 >= end) return 1;
  const next = text.charCodeAt(at + 1);
  return next >= 0xdc00 && next <= 0xdfff ? 2 : 1;
}

/** What a character counts: bytes of UTF-8 or code points. */
function sizeOf(first: number, units: number, encoding: Encoding): number {
  if (encoding === 'utf-32') return 1;
  if (encoding === 'utf-16') return units;
  if (units === 2) return 4;
  return first < 0x80 ? 1 : first < 0x800 ? 2 : 3;
}
