import { classAt, CLASS, DIGIT, LOWER, SPACE, UPPER, WORD } from './chars.js';
import * as T from './tokens.js';
import type { Comment, Count } from './tree.js';
import type { TokenType } from 'chevrotain';

/**
 * Text to tokens, by hand: one pass, no regular expression on the way, no token longer than
 * its line. A token carries what the parser needs of its text (`image`: the letters of a
 * press, a name without `@`, the value of a string; `count`), so nothing is read twice.
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

export interface Scan {
  readonly tokens: ScannedToken[];
  readonly comments: Comment[];
  /** Where scanning ended: at `to`, or where a declaration word begins another declaration. */
  readonly end: number;
}

const SINGLE = new Map<number, TokenType>([
  [40, T.LeftParen],
  [41, T.RightParen],
  [91, T.LeftSquare],
  [93, T.RightSquare],
  [123, T.LeftBrace],
  [125, T.RightBrace],
  [126, T.Settle],
  [38, T.Amp],
  [58, T.Colon],
  [44, T.Comma],
  [61, T.Equals],
  [47, T.Slash],
  [43, T.Plus],
]);
const SINGLE_BY_CODE: (TokenType | undefined)[] = Array.from({ length: 128 }, (_, c) =>
  SINGLE.get(c),
);

/**
 * Tokens of `text` from `from` up to `to`, offsets counted from `from`. A declaration word
 * outside all braces that is not the first token ends the scan in front of it.
 */
export function scan(text: string, from: number, to: number): Scan {
  const tokens: ScannedToken[] = [];
  const comments: Comment[] = [];
  let i = from;
  let braces = 0;
  let image: string;
  let count: Count;

  while (i < to) {
    const c = text.charCodeAt(i);
    let cls = c < 128 ? (CLASS[c] ?? 0) : classAt(text, i);
    if (cls === SPACE) {
      i++;
      continue;
    }
    const start = i;
    let type: TokenType;
    image = '';
    count = ONE;
    if (cls === UPPER) {
      i++;
      while (i < to && (CLASS[text.charCodeAt(i)] ?? 0) === UPPER) i++;
      image = text.slice(start, i);
      type = T.Press;
      cls = classAt(text, i);
      if ((cls & WORD) !== 0) {
        if (cls === DIGIT) readCount();
        if ((classAt(text, i) & WORD) !== 0) {
          skipWord();
          type = T.Bad;
        }
      }
    } else if (c === 46) {
      i++;
      type = T.Wait;
      if (classAt(text, i) === DIGIT) readCount();
      if ((classAt(text, i) & WORD) !== 0 || text.charCodeAt(i) === 46) {
        while (text.charCodeAt(i) === 46 && i < to) i++;
        skipWord();
        type = T.Bad;
      }
    } else if (c === 45) {
      i++;
      if (text.charCodeAt(i) === 62 && i < to) {
        i++;
        type = T.Arrow;
      } else type = T.Join;
    } else if (c === 42) {
      i++;
      type = T.Bad;
      if (classAt(text, i) === DIGIT && i < to) {
        readCount();
        type = count.unit === 'frames' ? T.Repeat : T.Bad;
        if (text.charCodeAt(i) === 43) {
          i++;
          image = '+';
        }
        if ((classAt(text, i) & WORD) !== 0) {
          skipWord();
          type = T.Bad;
        }
      }
    } else if (c === 64) {
      i++;
      skipWord();
      image = text.slice(start + 1, i);
      type = image === '' ? T.Bad : T.Spot;
    } else if (c === 34) {
      type = T.Str;
      image = readString();
    } else if (c === 35) {
      while (i < to && text.charCodeAt(i) !== 10 && text.charCodeAt(i) !== 13) i++;
      comments.push({ start: start - from, end: i - from });
      continue;
    } else if (cls === LOWER) {
      skipWord();
      image = text.slice(start, i);
      const keyword = T.KEYWORDS.get(image);
      type = keyword ?? (isSightings(image) ? T.Sightings : T.Word);
      if (keyword !== undefined && braces === 0 && tokens.length > 0) {
        if (T.DECLARATION_WORDS.has(image)) {
          i = start;
          break;
        }
      }
    } else if (cls === DIGIT) {
      type = readNumber();
    } else {
      type = (c < 128 ? SINGLE_BY_CODE[c] : undefined) ?? T.Bad;
      i++;
      if (type === T.LeftBrace) braces++;
      else if (type === T.RightBrace) {
        if (braces > 0) braces--;
      } else if (type === T.Bad) {
        while (i < to && isJunk(text, i)) i++;
        image = text.slice(start, i);
      }
    }
    if (i > to) i = to;
    if (type === T.Bad && image === '') image = text.slice(start, i);
    tokens.push({
      image,
      startOffset: start - from,
      end: i - from,
      endOffset: i - from - 1,
      tokenTypeIdx: type.tokenTypeIdx ?? 0,
      tokenType: type,
      count,
    });
  }
  return { tokens, comments, end: i };

  function skipWord(): void {
    while (i < to && (classAt(text, i) & WORD) !== 0) i++;
  }

  /** Digits, `..` digits, `ms`; leaves `i` behind them. */
  function readCount(): void {
    const lo = readInteger();
    let hi = lo;
    let ranged = false;
    if (text.charCodeAt(i) === 46 && text.charCodeAt(i + 1) === 46) {
      if (classAt(text, i + 2) === DIGIT) {
        i += 2;
        hi = readInteger();
        ranged = true;
      }
    }
    let micro = 0;
    let fraction = false;
    if (!ranged && text.charCodeAt(i) === 46 && classAt(text, i + 1) === DIGIT) {
      // A decimal makes sense only in milliseconds; three places, so that microseconds hold it.
      let j = i + 1;
      while (classAt(text, j) === DIGIT) j++;
      if (text.startsWith('ms', j) && j - i - 1 <= 3) {
        micro = Number(text.slice(i + 1, j).padEnd(3, '0'));
        i = j;
        fraction = true;
      }
    }
    if (text.charCodeAt(i) === 109 && text.charCodeAt(i + 1) === 115) {
      if ((classAt(text, i + 2) & WORD) === 0) {
        i += 2;
        count = {
          lo: lo * 1000 + micro,
          hi: hi * 1000 + micro,
          unit: 'microseconds',
          written: true,
        };
        return;
      }
    }
    const small = !ranged && !fraction ? SMALL[lo] : undefined;
    count = small ?? { lo, hi, unit: 'frames', written: true };
  }

  /** Digits as a number; beyond the exact range the value is only near, which the parser refuses. */
  function readInteger(): number {
    const start = i;
    let value = 0;
    while (i < to && (CLASS[text.charCodeAt(i)] ?? 0) === DIGIT) {
      value = value * 10 + text.charCodeAt(i) - 48;
      i++;
    }
    return i - start > 15 ? Number(text.slice(start, i)) : value;
  }

  function readNumber(): TokenType {
    const start = i;
    while (i < to && classAt(text, i) === DIGIT) i++;
    if (text.charCodeAt(i) === 46 && classAt(text, i + 1) === DIGIT) {
      i++;
      while (i < to && classAt(text, i) === DIGIT) i++;
    }
    if (text.charCodeAt(i) === 37) i++;
    else {
      const unit = i;
      skipWord();
      const written = text.slice(unit, i);
      if (written !== '' && written !== 'ms' && written !== 's') return T.Bad;
    }
    image = text.slice(start, i);
    return T.Quantity;
  }

  /** The value of a string; a missing end quote is seen by the parser in the text. */
  function readString(): string {
    i++;
    let value = '';
    let part = i;
    while (i < to) {
      const c = text.charCodeAt(i);
      if (c === 34) {
        value += text.slice(part, i);
        i++;
        return value;
      }
      if (c === 10 || c === 13) break;
      if (c === 92 && (text.charCodeAt(i + 1) === 34 || text.charCodeAt(i + 1) === 92)) {
        value += text.slice(part, i);
        part = i + 1;
        i++;
      }
      i++;
    }
    return value + text.slice(part, i);
  }
}

function isSightings(word: string): boolean {
  return word.length > 1 && word.charCodeAt(0) === 120 && /^x[0-9]+$/.test(word);
}

/** Characters that no token begins with: a run of them is reported once. */
function isJunk(text: string, at: number): boolean {
  const c = text.charCodeAt(at);
  if (c >= 128) return classAt(text, at) === 0;
  return (
    CLASS[c] === 0 &&
    SINGLE_BY_CODE[c] === undefined &&
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
