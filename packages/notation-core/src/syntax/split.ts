import { nearest } from '../text/suggest.js';
import { classAt, CLASS, LOWER, SPACE, WORD } from './chars.js';
import { DECLARATION_WORDS } from './tokens.js';

/** The characters that a count of braces has to look at: `"`, `#`, `{` and `}`. */
const STOPS = new Uint8Array(126);
for (const c of [34, 35, 123, 125]) STOPS[c] = 1;

/** The letters that declaration words begin with. */
const BEGINNINGS = new Uint8Array(128);
for (const word of DECLARATION_WORDS.keys()) BEGINNINGS[word.charCodeAt(0)] = 1;

/** Where a unit may begin, and the declaration word that was meant where it is misspelled. */
export interface Cut {
  readonly at: number;
  readonly meant: string | undefined;
}

/**
 * Cuts a text in front of each line that begins with a declaration word, comment lines and
 * blank lines above it included. Nothing else can be called by such a word, so the cut holds
 * however broken the text around it is: this is what keeps one broken declaration from
 * costing another. A word in the first column that is nearly a declaration word cuts too,
 * outside braces. The first cut is always at `from`.
 */
export function cuts(text: string, from = 0, to = text.length): Cut[] {
  const found: Cut[] = [{ at: from, meant: undefined }];
  let trivia = from;
  let inTrivia = true;
  // Braces are counted up to a line only where one in the first column depends on them.
  let braces = 0;
  let counted = from;
  const returns = text.indexOf('\r', from) >= 0;
  let i = from;
  while (i < to) {
    const lineStart = i;
    if (!inTrivia) trivia = lineStart;
    while (i < to && isBlank(text, i)) i++;
    const c = i < to ? text.charCodeAt(i) : 10;
    if (c === 10 || c === 13 || c === 35) {
      // A blank line or a comment line: it belongs to what follows.
      if (!inTrivia) {
        inTrivia = true;
        trivia = lineStart;
      }
      i = nextLine(text, i, to, returns);
      continue;
    }
    // `Route` is never anything but a misspelled word; a run of capitals is a press.
    if (isSmall(c) || (c >= 65 && c <= 90 && isSmall(text.charCodeAt(i + 1)))) {
      const start = i;
      let firstColumn = lineStart;
      // A byte-order mark takes no column.
      if (lineStart === 0) while (text.charCodeAt(firstColumn) === 0xfeff) firstColumn++;
      while (i < to && isWord(text, i)) i++;
      // No line within a block is worth a look that cannot begin a declaration.
      const inside = start !== firstColumn;
      if (inside && BEGINNINGS[c] !== 1) {
        inTrivia = false;
        i = nextLine(text, i, to, returns);
        continue;
      }
      const word = text.slice(start, i);
      const exact = DECLARATION_WORDS.has(word);
      let meant: string | undefined;
      if (!exact && !inside && looksLikeHeader(text, i, to)) {
        meant = nearest(word, DECLARATION_WORDS.keys());
        if (meant !== undefined) {
          braces = countBraces(text, counted, lineStart, braces);
          counted = lineStart;
          if (braces > 0) meant = undefined;
        }
      }
      if (exact || meant !== undefined) {
        const at = inTrivia ? trivia : lineStart;
        if (at === from && found.length === 1) found[0] = { at, meant };
        else found.push({ at, meant });
        braces = 0;
        counted = i;
      }
    }
    inTrivia = false;
    i = nextLine(text, i, to, returns);
  }
  return found;
}

/** Open braces at `to`, a line's start, where `before` were open at `from`, outside strings and comments. */
function countBraces(text: string, from: number, to: number, before: number): number {
  let braces = before;
  let i = from;
  while (i < to) {
    const d = text.charCodeAt(i);
    if (d > 125 || STOPS[d] === 0) {
      i++;
    } else if (d === 35) {
      i = nextLine(text, i, to, true);
    } else if (d === 34) {
      i++;
      while (i < to) {
        const e = text.charCodeAt(i);
        if (e === 34 || e === 10 || e === 13) break;
        const f = text.charCodeAt(i + 1);
        i += e === 92 && (f === 34 || f === 92) ? 2 : 1;
      }
      i++;
    } else {
      if (d === 123) braces++;
      else if (d === 125 && braces > 0) braces--;
      i++;
    }
  }
  return braces;
}

function isSmall(c: number): boolean {
  return c >= 97 && c <= 122;
}

function isWord(text: string, at: number): boolean {
  const c = text.charCodeAt(at);
  return ((c < 128 ? (CLASS[c] ?? 0) : classAt(text, at)) & WORD) !== 0;
}

function isBlank(text: string, at: number): boolean {
  const c = text.charCodeAt(at);
  if (c === 10 || c === 13) return false;
  return (c < 128 ? CLASS[c] : classAt(text, at)) === SPACE;
}

/** Where the next line begins; a search for LF alone is much faster than one for CR as well. */
function nextLine(text: string, at: number, to: number, returns: boolean): number {
  if (!returns) {
    const end = text.indexOf('\n', at);
    return end < 0 || end >= to ? to : end + 1;
  }
  let i = at;
  while (i < to) {
    const c = text.charCodeAt(i++);
    if (c === 10) return i;
    if (c === 13) return text.charCodeAt(i) === 10 ? i + 1 : i;
  }
  return to;
}

/** After a declaration word comes a name, a text, a spot or a brace; after most phrases an input. */
function looksLikeHeader(text: string, at: number, to: number): boolean {
  let i = at;
  while (i < to && isBlank(text, i)) i++;
  const c = text.charCodeAt(i);
  return i > at && (c === 34 || c === 64 || c === 123 || classAt(text, i) === LOWER);
}
