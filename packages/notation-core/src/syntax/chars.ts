/** What a UTF-16 unit can be, as bits, for the first 128; other letters go through `isLetter`. */
export const DIGIT = 1;
export const UPPER = 2;
export const LOWER = 4;
export const SPACE = 8;
export const WORD = DIGIT | UPPER | LOWER;

export const CLASS = new Uint8Array(128);
for (let c = 48; c <= 57; c++) CLASS[c] = DIGIT;
for (let c = 65; c <= 90; c++) CLASS[c] = UPPER;
for (let c = 97; c <= 122; c++) CLASS[c] = LOWER;
CLASS[95] = LOWER;
for (const c of [9, 10, 11, 12, 13, 32]) CLASS[c] = SPACE;

const LETTER = /[\p{L}\p{M}\p{N}]/u;
const BLANK = /[\s\u0085\ufeff]/u;

/** The class of the character at an offset; letters outside ASCII count as small letters. */
export function classAt(text: string, at: number): number {
  const c = text.charCodeAt(at);
  if (c < 128) return CLASS[c] ?? 0;
  if (Number.isNaN(c)) return 0;
  if (c >= 0xdc00 && c <= 0xdfff && at > 0) {
    // The second half of a pair belongs to whatever its first half is.
    return LETTER.test(String.fromCodePoint(text.codePointAt(at - 1) ?? 0)) ? LOWER : 0;
  }
  const char = String.fromCodePoint(text.codePointAt(at) ?? 0);
  if (LETTER.test(char)) return LOWER;
  return BLANK.test(char) ? SPACE : 0;
}
