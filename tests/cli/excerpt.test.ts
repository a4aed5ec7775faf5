import fc from 'fast-check';
import stringWidth from 'string-width';
import { describe, expect, test } from 'vitest';
import { type Width, excerpt } from '@core/cli/show/excerpt.js';
import { LineIndex } from '@core/text/lines.js';

const width: Width = stringWidth;

/** The excerpt of a text in which the span stands between « and ». */
function show(marked: string, room = 80) {
  const start = marked.indexOf('«');
  const text = marked.replace('«', '');
  const end = text.indexOf('»');
  return excerpt(new LineIndex(text.replace('»', '')), { start, end }, room, width);
}

describe('marks stand under the span', () => {
  test.each([
    ['route r { «D3» R }', 'route r { D3 R }', '          ^^'],
    ['«D»', 'D', '^'],
    ['route r {\n  «D0»\n}', '  D0', '  ^^'],
    ['route r {\r\n  D «R»\r\n}', '  D R', '    ^'],
    // A span that goes on shows its first line only.
    ['a «b\n c» d', 'a b', '  ^'],
    // Nothing to mark: one mark where it is.
    ['D R«»', 'D R', '   ^'],
    ['D «»R', 'D R', '  ^'],
    ['«»', '', '^'],
    ['D«\n»R', 'D', ' ^'],
    ['D\n«»', '', '^'],
    // Tabs go on to every fourth column, wherever the line is shown.
    ['\t«D»', '    D', '    ^'],
    ['ab\t«D»\tR', 'ab  D   R', '    ^'],
    ['«\t»D', '    D', '^^^^'],
    // Wide, combined and astral characters.
    ['"茶室" «D»', '"茶室" D', '       ^'],
    ['"«茶»"', '"茶"', ' ^^'],
    ['"e\u0301" «D»', '"e\u0301" D', '    ^'],
    ['"🦊" «D»', '"🦊" D', '     ^'],
    ['"👩‍🚀" «D»', '"👩‍🚀" D', '     ^'],
    ['"\ud83e" «D»', '"\ud83e" D', undefined],
    // What would move the cursor, or turn the line around, is shown as one sign.
    ['a\u001b[2J «D»', 'a\ufffd[2J D', '      ^'],
    ['a\u0000\u202e«D»', 'a\ufffd\ufffdD', '   ^'],
  ])('%j', (marked, line, marks) => {
    const shown = show(marked);
    expect(shown.line).toBe(line);
    if (marks !== undefined) expect(shown.marks).toBe(marks);
  });
});

describe('a long line is cut around the span', () => {
  const a = 'a'.repeat(100);
  const c = 'c'.repeat(100);
  test.each([
    ['in the middle', `${a}«b»${c}`, `…aaaaaabccccccccccc…`, '       ^'],
    ['at the front', `«b»${c}`, `bccccccccccccccccc…`, '^'],
    ['near the front', `aa«bb»${c}`, `aabbcccccccccccccc…`, '  ^^'],
    ['at the back', `${a}«b»`, `…${'a'.repeat(17)}b`, `${' '.repeat(18)}^`],
    ['longer than the room', `ab«${c}»`, `abcccccccccccccccc…`, '  ^^^^^^^^^^^^^^^^'],
    ['beyond the back', `${a}«»`, `…${'a'.repeat(18)}`, `${' '.repeat(19)}^`],
    [
      'among wide signs',
      `${'茶'.repeat(50)}«b»${'茶'.repeat(50)}`,
      '…茶茶茶b茶茶茶茶茶…',
      '       ^',
    ],
  ])('%s', (_, marked, line, marks) => {
    expect(show(marked, 20)).toEqual({ line, marks });
  });

  test('and a megabyte costs no more than a short one', () => {
    const text = `route r { ${'D '.repeat(500_000)}X ${'D '.repeat(500_000)}}`;
    const start = text.indexOf('X');
    const shown = excerpt(new LineIndex(text), { start, end: start + 1 }, 80, width);
    expect(shown.line.length).toBeLessThanOrEqual(80);
    expect(under(shown, 'X')).toEqual(['^']);
  });
});

/** The marks under each place where `what` is shown, where every character has one column. */
function under({ line, marks }: { line: string; marks: string }, what: string): string[] {
  return Array.from(line).flatMap((sign, k) => (sign === what ? [marks[k] ?? ' '] : []));
}

const piece = fc.oneof(
  fc.constantFrom('\t', ' ', 'D', 'R3', '~', '茶', '🦊', 'e\u0301', '"', '\u001b', 'ﾊ', '\u00a0'),
  fc.string({ maxLength: 3 }),
);

test('marks begin where the text before the span ends, and are as wide as the span', () => {
  fc.assert(
    fc.property(
      fc.array(piece, { maxLength: 8 }),
      fc.array(fc.constantFrom('D', '茶', '🦊', '3'), { minLength: 1, maxLength: 4 }),
      fc.array(piece, { maxLength: 8 }),
      (a, b, c) => {
        const before =
          Array.from(a.join(''))
            .filter((sign) => !/[\r\n\ud800-\udfff\u2028\u2029]/.test(sign))
            .join('') + ' ';
        const [inside, after] = [b.join(''), c.join('').replace(/[\r\n]/g, '')];
        const text = before + inside + ' ' + after;
        const start = before.length;
        const { marks } = excerpt(
          new LineIndex(text),
          { start, end: start + inside.length },
          400,
          width,
        );
        expect(marks).toBe(' '.repeat(plainWidth(before)) + '^'.repeat(stringWidth(inside)));
      },
    ),
    { numRuns: 2000 },
  );
});

/** The columns of a text, reckoned letter by letter. */
function plainWidth(text: string): number {
  let column = 0;
  for (const { segment } of new Intl.Segmenter('en').segment(text)) {
    if (segment === '\t') column = (Math.floor(column / 4) + 1) * 4;
    else if (/^[\p{Cc}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/u.test(segment)) column += 1;
    else column += stringWidth(segment);
  }
  return column;
}

test('whatever the text, the line fits its room and the marks stand on it', () => {
  fc.assert(
    fc.property(
      fc.array(piece, { maxLength: 300 }),
      fc.nat(),
      fc.nat({ max: 50 }),
      fc.integer({ min: 10, max: 100 }),
      (pieces, at, length, room) => {
        const text = pieces.join('');
        const start = at % (text.length + 1);
        const end = Math.min(text.length, start + length);
        const shown = excerpt(new LineIndex(text), { start, end }, room, width);
        expect(shown.line).not.toMatch(/\p{Cc}/u);
        expect(stringWidth(shown.line)).toBeLessThanOrEqual(room + 2);
        expect(shown.marks).toMatch(/^ *\^( *\^)*$/);
        expect(shown.marks.length).toBeLessThanOrEqual(room + 2);
      },
    ),
    { numRuns: 2000 },
  );
});
