import { describe, expect, test } from 'vitest';
import { formatFile, formatOnType, formatRange } from '@core/ide/format.js';
import { format } from '@core/syntax/print.js';
import { parse } from '@core/syntax/parse.js';
import { applyEdits } from '@core/text/edit.js';
import { analysed, atCursor, LOG } from './at.js';

/** The text after the lines between the two cursors `‹ ›` were laid out. */
function range(marked: string, expected: string): void {
  const from = marked.indexOf('‹');
  const to = marked.indexOf('›') - 1;
  const text = marked.replace(/[‹›]/g, '');
  const { analysis } = analysed(text);
  expect(applyEdits(text, formatRange(analysis, 'note.tiptoe', from, to))).toBe(expected);
}

/** The text after the sign in front of the cursor was typed. */
function typed(marked: string, expected: string): void {
  const { analysis, path, text, offset } = atCursor(marked);
  const edits = formatOnType(analysis, path, offset, text.charAt(offset - 1));
  expect(applyEdits(text, edits)).toBe(expected);
}

describe('format', () => {
  test('a whole file as `tiptoe fmt` does', () => {
    const text = LOG.replace(/ {2}/g, '     ');
    const { analysis } = analysed(`//- note.tiptoe\n${text}`);
    const edits = formatFile(analysis, 'note.tiptoe');
    const written = analysis.file('note.tiptoe')?.tree.text ?? '';
    expect(applyEdits(written, edits)).toBe(format(parse(written)));
    expect(edits.length).toBeGreaterThan(3);
  });
  test('does not apply to what is laid out, nor to what is not there', () => {
    const { analysis } = analysed('let a = U\n');
    expect(formatFile(analysis, 'note.tiptoe')).toEqual([]);
    expect(formatFile(analysis, 'none.tiptoe')).toEqual([]);
    expect(formatRange(analysis, 'none.tiptoe', 0, 9)).toEqual([]);
    expect(formatOnType(analysis, 'none.tiptoe', 1, '}')).toEqual([]);
  });
  test('a stretch: its whole lines and nothing else', () => {
    range('let   a = U\nlet   b‹›  = U\nlet   c = U\n', 'let   a = U\nlet b = U\nlet   c = U\n');
    range('let   a = U\nlet ‹  b  = U\nlet   c› = U\nlet   d = U', 'let   a = U\nlet b = U\nlet c = U\nlet   d = U'); // prettier-ignore
    range('‹let   a = U\nlet   c = U›\n\n\n', 'let a = U\nlet c = U\n\n\n');
    range('route a {\n      U\n   ‹   R›\n      D\n}\n', 'route a {\n      U\n  R\n      D\n}\n');
  });
  test('a stretch of lines that end in CRLF', () => {
    range('route a {\r\n      U\r\n   ‹   R›  \r\n      D\r\n}\r\n', 'route a {\r\n      U\r\n  R\r\n      D\r\n}\r\n'); // prettier-ignore
  });
  test('a stretch of the whole file is the file', () => {
    const text = LOG.replace(/ {2}/g, '     ');
    range(`‹${text}›`, format(parse(text)));
  });
  test('what cannot be read stays', () => {
    range('‹let   a = )›\n', 'let   a = )\n');
    range('nonsense   here\n‹let   a = U›\n', 'nonsense   here\nlet a = U\n');
  });
});

describe('format on type', () => {
  test('a line end gets the indentation of its depth', () => {
    typed('route a {\n|}', 'route a {\n}');
    typed('route a {\n|', 'route a {\n  ');
    typed('route a {\n  choose b {\n|', 'route a {\n  choose b {\n    ');
    typed('route a {\n  U\n      |R', 'route a {\n  U\n      R');
    typed('let a = U\n|', 'let a = U\n');
    typed('game "F" {\n  inputs { # { not this\n|', 'game "F" {\n  inputs { # { not this\n    ');
  });
  test('a bracket that closes lays out its declaration', () => {
    typed('let x   = U\nroute a {\n    U    R\n}|\nlet y   = U', 'let x   = U\nroute a {\n  U R\n}\nlet y   = U'); // prettier-ignore
    typed('let a =   (U   R)|', 'let a = (U R)');
  });
  test('does not apply in texts, in comments, or while it cannot be read', () => {
    typed('let a   = U # }|', 'let a   = U # }');
    typed('spot @a   "}|"', 'spot @a   "}"');
    typed('route a {   U )|', 'route a {   U )');
    typed('let   a = U|', 'let   a = U');
  });
});
