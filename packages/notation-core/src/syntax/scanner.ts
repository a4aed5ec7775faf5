import { classAt, CLASS, DIGIT, LOWER, SPACE, WORD } from './chars.js';
import * as T from './tokens.js';
import type { Comment, Count } from './tree.js';
import type { TokenType } from 'chevrotain';

/**
 * A token carries what the parser needs of its text (`image`: the letters of a press, a name
 * without `@`, the value of a string; `count`), so nothing is read twice.
 */
export interface ScannedToken extends T.Token {
  readonly end: number;
  readonly count: Count;
}

export const ONE: Count = { lo: 1, hi: 1, unit: 'frames', written: false };
const SMALL: Count[] = Array.from({ length: 256 }, (_, n) => ({
  lo: n,
  hi: n,
  unit: 'frames',
  written: true,
}));

/** A press of one letter, which most are, needs no look-up. */
const LETTERS: readonly string[] = Array.from('ABCDEFGHIJKLMNOPQRSTUVWXYZ');

/** Token types as numbers, and back: a number is kept and compared without a look at memory. */
const index = (type: TokenType): number => type.tokenTypeIdx ?? 0;
const TYPES: TokenType[] = [];
for (const type of [...T.TOKEN_TYPES, T.END_OF_INPUT]) TYPES[index(type)] = type;
const [PRESS, WAIT, JOIN, ARROW, REPEAT, BAD] = [
  T.Press, T.Wait, T.Join, T.Arrow, T.Repeat, T.Bad,
].map(index) as [number, number, number, number, number, number]; // prettier-ignore
const [SPOT, STRING, WORD_TYPE, SIGHTINGS, QUANTITY, LEFT_BRACE, RIGHT_BRACE] = [
  T.Spot, T.Str, T.Word, T.Sightings, T.Quantity, T.LeftBrace, T.RightBrace,
].map(index) as [number, number, number, number, number, number, number]; // prettier-ignore

/** The type of a token of one sign by its code; where there is none, `Bad`. */
const SINGLE = new Uint16Array(128).fill(BAD);
for (const [sign, type] of [
  ['(', T.LeftParen],
  [')', T.RightParen],
  ['[', T.LeftSquare],
  [']', T.RightSquare],
  ['{', T.LeftBrace],
  ['}', T.RightBrace],
  ['~', T.Settle],
  ['&', T.Amp],
  [':', T.Colon],
  [',', T.Comma],
  ['=', T.Equals],
  ['/', T.Slash],
  ['+', T.Plus],
] as const) {
  SINGLE[sign.charCodeAt(0)] = index(type);
}

/** What ends a count of one digit for certain: all but a word's characters and the `.` of a range. */
const ENDS_COUNT = new Uint8Array(128);
for (let c = 0; c < 128; c++) ENDS_COUNT[c] = c === 46 || ((CLASS[c] ?? 0) & WORD) !== 0 ? 0 : 1;

/** A word's characters, from 1 to 63: six bits each, so that ten of them are two small numbers. */
const SIX_BITS = new Uint8Array(128);
let sixBits = 0;
for (let c = 0; c < 128; c++) if (((CLASS[c] ?? 0) & WORD) !== 0) SIX_BITS[c] = ++sixBits;
const THIRTY_BITS = 0x3fffffff;

const END = T.END_OF_INPUT;
const END_INDEX = index(END);

/**
 * Text to tokens, by hand: one pass, no regular expression on the way, no token longer than
 * its line. The scanner itself is the token at hand, so that a sequence is read without an
 * object for each of its tokens; `token()` makes one where it has to be kept.
 */
export class Scanner implements ScannedToken {
  tokenTypeIdx = END_INDEX;
  image = '';
  count: Count = ONE;
  /**
   * Offsets count from where the scan began; the end of the input is where it stopped. Never
   * NaN, as Chevrotain has it: with one number that is no integer every offset of every node
   * would be kept as an object of its own.
   */
  startOffset = 0;
  end = 0;

  comments: Comment[] = [];
  /** Where the last token ended that was gone past. */
  lastEnd = 0;
  /** How many tokens were gone past. */
  taken = 0;

  private text = '';
  private from = 0;
  private to = 0;
  /** The text in front of this is read. */
  private at = 0;
  private braces = 0;
  private begun = false;
  private meant: string | undefined;
  private made: ScannedToken | undefined;
  private queue: ScannedToken[] = [];
  private queued = 0;
  /** Short names that were read before, with their characters as numbers (`SIX_BITS`). */
  private readonly names: string[] = Array.from({ length: 1024 }, () => '');
  private readonly namesLow = new Int32Array(1024);
  private readonly namesHigh = new Int32Array(1024);
  private readonly nameTypes = new Uint16Array(1024).fill(WORD_TYPE);
  /** What the name looked up last is as a word: a keyword, all of which are short, or none. */
  private wordType = WORD_TYPE;

  /**
   * Begins with the tokens of `text` from `from` up to `to`. A declaration word outside all
   * braces that is not the first token ends the input in front of it. Where `meant` is given,
   * the first token stands for that word.
   */
  begin(text: string, from: number, to: number, meant?: string): void {
    this.text = text;
    this.from = this.at = from;
    this.to = to;
    this.meant = meant;
    this.comments = [];
    this.lastEnd = this.taken = this.braces = 0;
    this.begun = false;
    if (this.queue.length > 0) this.queue = [];
    this.queued = 0;
    this.read();
    if (meant !== undefined) this.mean(meant);
  }

  private mean(word: string): void {
    const type = T.DECLARATION_WORDS.get(word);
    if (type === undefined || this.atEnd) return;
    this.image = word;
    this.tokenTypeIdx = index(type);
    this.made = undefined;
  }

  get tokenType(): TokenType {
    return TYPES[this.tokenTypeIdx] ?? END;
  }

  get endOffset(): number {
    return this.end - 1;
  }

  get atEnd(): boolean {
    return this.tokenTypeIdx === END_INDEX;
  }

  /** Where the scan stopped, counted from the beginning of the text; known once at the end. */
  get stop(): number {
    return this.at;
  }

  /** The token at hand as an object of its own. */
  token(): ScannedToken {
    return (this.made ??= {
      image: this.image,
      startOffset: this.startOffset,
      end: this.end,
      endOffset: this.end - 1,
      tokenTypeIdx: this.tokenTypeIdx,
      tokenType: this.tokenType,
      count: this.count,
    });
  }

  /** Goes past the token at hand. */
  advance(): void {
    if (this.tokenTypeIdx !== END_INDEX) {
      this.lastEnd = this.end;
      this.taken++;
    }
    if (this.queued < this.queue.length) this.load(this.queue[this.queued++] ?? this.token());
    else this.read();
  }

  /** Goes past all that is left. */
  drain(): void {
    while (this.tokenTypeIdx !== END_INDEX) this.advance();
  }

  /** Back to where so many tokens had been taken. Reads them again: for mending errors only. */
  rewind(taken: number): void {
    if (taken === this.taken) return;
    this.begin(this.text, this.from, this.to, this.meant);
    while (this.taken < taken && !this.atEnd) this.advance();
  }

  /** The k-th token behind the one at hand (k at least 1), which stays at hand. */
  ahead(k: number): ScannedToken {
    const here = this.token();
    while (this.queue.length - this.queued < k) {
      this.read();
      this.queue.push(this.token());
    }
    this.load(here);
    return this.queue[this.queued + k - 1] ?? here;
  }

  private load(token: ScannedToken): void {
    this.image = token.image;
    this.startOffset = token.startOffset;
    this.end = token.end;
    this.count = token.count;
    this.tokenTypeIdx = token.tokenTypeIdx;
    this.made = token;
  }

  /** The code of the character that begins the token behind the one at hand, or -1. */
  nextCode(): number {
    const { text, to } = this;
    let i = this.from + this.end;
    while (i < to) {
      const c = text.charCodeAt(i);
      if (c === 35) i = this.commentEnd(i);
      else if (c === 32 || (c < 128 ? CLASS[c] : classAt(text, i)) === SPACE) i++;
      else return c;
    }
    return -1;
  }

  private commentEnd(at: number): number {
    const { text, to } = this;
    let i = at;
    while (i < to && text.charCodeAt(i) !== 10 && text.charCodeAt(i) !== 13) i++;
    return i;
  }

  /** Reads the next token of the text. */
  private read(): void {
    const { text, to } = this;
    let i = this.at;
    let c: number;
    this.made = undefined;
    for (;;) {
      if (i >= to) {
        this.finish(to);
        return;
      }
      c = text.charCodeAt(i);
      if (c === 32 || c === 10) i++;
      else if (c === 35) {
        const end = this.commentEnd(i);
        this.comments.push({ start: i - this.from, end: end - this.from });
        i = end;
      } else if ((c < 128 ? CLASS[c] : classAt(text, i)) === SPACE) i++;
      else break;
    }
    this.startOffset = i - this.from;
    if (c >= 65 && c <= 90) i = this.readPress(i, c);
    else {
      this.image = '';
      this.count = ONE;
      i = this.readOther(i, c);
      if (i < 0) return;
      if (i > to) i = to;
      if (this.tokenTypeIdx === BAD && this.image === '') {
        this.image = text.slice(this.from + this.startOffset, i);
      }
    }
    this.begun = true;
    this.at = i;
    this.end = i - this.from;
  }

  /** A press, or a run of letters and digits that is none; returns where it ends. */
  private readPress(start: number, first: number): number {
    const { text, to } = this;
    let i = start + 1;
    // Never past the end: a read there is slow, and so is every later one in the same place.
    let c = i < to ? text.charCodeAt(i) : 0;
    if (c >= 65 && c <= 90) {
      let low = SIX_BITS[first] ?? 0;
      let high = 0;
      do {
        high = ((high << 6) | (low >>> 24)) & THIRTY_BITS;
        low = ((low << 6) | (SIX_BITS[c] ?? 0)) & THIRTY_BITS;
        c = ++i < to ? text.charCodeAt(i) : 0;
      } while (c >= 65 && c <= 90);
      this.image = this.name(start, i, low, high);
    } else this.image = LETTERS[first - 65] ?? '';
    this.tokenTypeIdx = PRESS;
    this.count = ONE;
    if (c < 128 ? ENDS_COUNT[c] === 1 || c === 46 : classAt(text, i) === 0) return i;
    if (c >= 48 && c <= 57) {
      const behind = i + 1 < to ? text.charCodeAt(i + 1) : 0;
      if (behind < 128 && ENDS_COUNT[behind] === 1) {
        // Most counts are one digit: they need no more than this.
        this.count = SMALL[c - 48] ?? ONE;
        return i + 1;
      }
      i = this.readCount(i);
    }
    if (i < to && (classAt(text, i) & WORD) !== 0) {
      i = this.skipWord(i);
      this.tokenTypeIdx = BAD;
    }
    return i;
  }

  /**
   * A token that begins with no capital; returns where it ends, or -1 where the word of the
   * next declaration ends the input.
   */
  private readOther(start: number, c: number): number {
    const { text, to } = this;
    let i = start + 1;
    let type = c < 128 ? (SINGLE[c] ?? BAD) : BAD;
    if (type !== BAD) {
      if (type === LEFT_BRACE) this.braces++;
      else if (type === RIGHT_BRACE && this.braces > 0) this.braces--;
    } else if (c === 46) {
      type = WAIT;
      let next = i < to ? text.charCodeAt(i) : 0;
      if (next >= 48 && next <= 57) {
        i = this.readCount(i);
        next = i < to ? text.charCodeAt(i) : 0;
      }
      if (next < 128 ? ENDS_COUNT[next] === 0 : (classAt(text, i) & WORD) !== 0) {
        while (text.charCodeAt(i) === 46 && i < to) i++;
        i = this.skipWord(i);
        type = BAD;
      }
    } else if (c === 45) {
      if (i < to && text.charCodeAt(i) === 62) {
        i++;
        type = ARROW;
      } else type = JOIN;
    } else if (c === 42) {
      if (i < to && classAt(text, i) === DIGIT) {
        i = this.readCount(i);
        type = this.count.unit === 'frames' ? REPEAT : BAD;
        let next = i < to ? text.charCodeAt(i) : 0;
        if (next === 43) {
          this.image = '+';
          next = ++i < to ? text.charCodeAt(i) : 0;
        }
        if (
          next !== 46 &&
          (next < 128 ? ENDS_COUNT[next] === 0 : (classAt(text, i) & WORD) !== 0)
        ) {
          i = this.skipWord(i);
          type = BAD;
        }
      }
    } else if (c === 64) {
      i = this.readName(i);
      type = this.image === '' ? BAD : SPOT;
    } else if (c === 34) {
      type = STRING;
      i = this.readString(start);
    } else {
      const cls = c < 128 ? (CLASS[c] ?? 0) : classAt(text, start);
      if (cls === LOWER) {
        i = this.readName(start);
        const word = this.image;
        type = this.wordType;
        if (c === 120 && i - start > 1 && this.skipDigits(start + 1) === i) {
          type = SIGHTINGS;
          this.count = countOf(this.integer(start + 1, i));
        }
        if (type !== WORD_TYPE && this.braces === 0 && this.begun) {
          if (T.DECLARATION_WORDS.has(word)) {
            this.finish(start);
            return -1;
          }
        }
      } else if (cls === DIGIT) {
        i = this.skipNumber(start);
        // A unit that is none makes the whole of it no number.
        type = this.image === '' ? BAD : QUANTITY;
      } else {
        while (i < to && isJunk(text, i)) i++;
        this.image = text.slice(start, i);
      }
    }
    this.tokenTypeIdx = type;
    return i;
  }

  private finish(at: number): void {
    this.at = this.to = at;
    this.image = '';
    this.count = ONE;
    this.startOffset = this.end = at - this.from;
    this.tokenTypeIdx = END_INDEX;
  }

  /** The characters of a word from `start`, into `image`; returns where they end. */
  private readName(start: number): number {
    const { text, to } = this;
    let i = start;
    let low = 0;
    let high = 0;
    let c = 0;
    for (; i < to; i++) {
      c = text.charCodeAt(i);
      const bits = c < 128 ? (SIX_BITS[c] ?? 0) : 0;
      if (bits === 0) break;
      high = ((high << 6) | (low >>> 24)) & THIRTY_BITS;
      low = ((low << 6) | bits) & THIRTY_BITS;
    }
    const ascii = i;
    if (i < to && c >= 128) i = this.skipWord(i);
    if (i === ascii) this.image = this.name(start, i, low, high);
    else {
      this.image = text.slice(start, i);
      this.wordType = WORD_TYPE;
    }
    return i;
  }

  /**
   * A name of ASCII characters, which `low` and `high` tell apart where they are ten at most.
   * The same few come again and again, above all in a log: they are looked up among those
   * read before, so that none is cut out of the text, or is in memory, twice.
   */
  private name(start: number, end: number, low: number, high: number): string {
    if (end - start > 10) {
      this.wordType = WORD_TYPE;
      return this.text.slice(start, end);
    }
    const slot = (low ^ (low >>> 10) ^ (low >>> 20) ^ Math.imul(high, 31)) & 1023;
    if (this.namesLow[slot] === low && this.namesHigh[slot] === high) {
      this.wordType = this.nameTypes[slot] ?? WORD_TYPE;
      return this.names[slot] ?? '';
    }
    this.namesLow[slot] = low;
    this.namesHigh[slot] = high;
    const name = this.text.slice(start, end);
    const keyword = T.KEYWORDS.get(name);
    this.wordType = keyword === undefined ? WORD_TYPE : index(keyword);
    this.nameTypes[slot] = this.wordType;
    return (this.names[slot] = name);
  }

  private skipWord(at: number): number {
    const { text, to } = this;
    let i = at;
    for (; i < to; i++) {
      const c = text.charCodeAt(i);
      if (((c < 128 ? (CLASS[c] ?? 0) : classAt(text, i)) & WORD) === 0) break;
    }
    return i;
  }

  /** Digits, `..` digits, `ms`, into `count`; returns where they end. */
  private readCount(at: number): number {
    const { text, to } = this;
    let i = at;
    let lo = 0;
    let c = text.charCodeAt(i);
    while (c >= 48 && c <= 57) {
      lo = lo * 10 + c - 48;
      c = ++i < to ? text.charCodeAt(i) : 0;
    }
    if (i - at > 15) lo = this.integer(at, i);
    if (c !== 46 && c !== 109) {
      this.count = countOf(lo);
      return i;
    }
    let hi = lo;
    let micro = 0;
    let plain = true;
    if (c === 46 && text.charCodeAt(i + 1) === 46) {
      if (classAt(text, i + 2) === DIGIT) {
        const second = i + 2;
        i = this.skipDigits(second);
        hi = this.integer(second, i);
        plain = false;
      }
    } else if (c === 46 && classAt(text, i + 1) === DIGIT) {
      // A decimal makes sense only in milliseconds; three places, so that microseconds hold it.
      let j = i + 1;
      while (classAt(text, j) === DIGIT) j++;
      if (text.startsWith('ms', j) && j - i - 1 <= 3) {
        micro = Number(text.slice(i + 1, j).padEnd(3, '0'));
        i = j;
        plain = false;
      }
    }
    if (text.charCodeAt(i) === 109 && text.charCodeAt(i + 1) === 115) {
      if ((classAt(text, i + 2) & WORD) === 0) {
        this.count = {
          lo: lo * 1000 + micro,
          hi: hi * 1000 + micro,
          unit: 'microseconds',
          written: true,
        };
        return i + 2;
      }
    }
    this.count = (plain ? SMALL[lo] : undefined) ?? { lo, hi, unit: 'frames', written: true };
    return i;
  }

  private skipDigits(at: number): number {
    const { text, to } = this;
    let i = at;
    while (i < to && (CLASS[text.charCodeAt(i)] ?? 0) === DIGIT) i++;
    return i;
  }

  /** Digits as a number; beyond the exact range the value is only near, which the parser refuses. */
  private integer(start: number, end: number): number {
    const { text } = this;
    if (end - start > 15) return Number(text.slice(start, end));
    let value = 0;
    for (let i = start; i < end; i++) value = value * 10 + text.charCodeAt(i) - 48;
    return value;
  }

  /** A number and its unit, into `image`, which stays empty where the unit is none. */
  private skipNumber(at: number): number {
    const { text, to } = this;
    let i = at;
    while (i < to && classAt(text, i) === DIGIT) i++;
    if (text.charCodeAt(i) === 46 && classAt(text, i + 1) === DIGIT) {
      i++;
      while (i < to && classAt(text, i) === DIGIT) i++;
    }
    if (text.charCodeAt(i) === 37) i++;
    else {
      const unit = i;
      i = this.skipWord(i);
      const written = text.slice(unit, i);
      if (written !== '' && written !== 'ms' && written !== 's') return i;
    }
    this.image = text.slice(at, i);
    return i;
  }

  /** The value of a string, into `image`; a missing end quote is seen by the parser in the text. */
  private readString(at: number): number {
    const { text, to } = this;
    let i = at + 1;
    let value = '';
    let part = i;
    while (i < to) {
      const c = text.charCodeAt(i);
      if (c === 34) {
        this.image = value === '' ? text.slice(part, i) : value + text.slice(part, i);
        return i + 1;
      }
      if (c === 10 || c === 13) break;
      if (c === 92 && (text.charCodeAt(i + 1) === 34 || text.charCodeAt(i + 1) === 92)) {
        value += text.slice(part, i);
        part = i + 1;
        i++;
      }
      i++;
    }
    this.image = value + text.slice(part, i);
    return i;
  }
}

export interface Scan {
  readonly tokens: ScannedToken[];
  readonly comments: Comment[];
  /** Where scanning ended: at `to`, or where a declaration word begins another declaration. */
  readonly end: number;
}

/** A scanner costs more to make than a declaration to read. */
let whole: Scanner | undefined;

/** All tokens of `text` from `from` up to `to` at once; as in `Scanner`, offsets count from `from`. */
export function scan(text: string, from: number, to: number): Scan {
  const scanner = (whole ??= new Scanner());
  const tokens: ScannedToken[] = [];
  scanner.begin(text, from, to);
  while (!scanner.atEnd) {
    tokens.push(scanner.token());
    scanner.advance();
  }
  return { tokens, comments: scanner.comments, end: scanner.stop };
}

function countOf(n: number): Count {
  return SMALL[n] ?? { lo: n, hi: n, unit: 'frames', written: true };
}

/** Characters that no token begins with: a run of them is reported once. */
function isJunk(text: string, at: number): boolean {
  const c = text.charCodeAt(at);
  if (c >= 128) return classAt(text, at) === 0;
  return (
    CLASS[c] === 0 &&
    SINGLE[c] === BAD &&
    c !== 45 && c !== 42 && c !== 46 && c !== 64 && c !== 34 && c !== 35
  ); // prettier-ignore
}

/** Whether a string token ends with its own quote. */
export function isClosedString(text: string, start: number, end: number): boolean {
  if (end - start < 2 || text.charCodeAt(end - 1) !== 34) return false;
  let slashes = 0;
  for (let i = end - 2; i > start && text.charCodeAt(i) === 92; i--) slashes++;
  return slashes % 2 === 0;
}
