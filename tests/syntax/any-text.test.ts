import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse, reparse } from '@core/syntax/parse.js';
import { format, formatEdits } from '@core/syntax/print.js';
import { applyEdits } from '@core/text/edit.js';
import { LIMITS } from '@core/text/limits.js';
import { messyNote, tidyNote } from '../support/generate.js';
import { meaning, problemsOf } from '../support/trees.js';

/** What holds for any text whatever. */
function expectSound(text: string): void {
  const tree = parse(text);
  let at = 0;
  for (const { start, unit } of tree.units) {
    expect(start).toBe(at);
    at += unit.text.length;
    expect(unit.problems.length).toBeLessThanOrEqual(LIMITS.problemsPerDeclaration + 1);
    for (const { start: from, end: to } of unit.problems) {
      expect(from).toBeGreaterThanOrEqual(0);
      expect(to).toBeGreaterThanOrEqual(from);
      expect(to).toBeLessThanOrEqual(unit.text.length);
    }
  }
  expect(tree.units.map(({ unit }) => unit.text).join('')).toBe(text);

  const once = format(tree);
  expect(applyEdits(text, formatEdits(tree))).toBe(once);
  // White space is all that changes.
  expect(bare(once)).toBe(bare(text));
  const again = parse(once);
  expect(JSON.stringify(meaning(again))).toBe(JSON.stringify(meaning(tree)));
  expect(format(again)).toBe(once);
}

function bare(text: string): string {
  return text.replace(/[\s\u0085\ufeff]+/g, '');
}

const SIGNS = [
  '(', ')', '[', ']', '{', '}', '-', '->', '*', '*3', '*6+', '&', '.', '..', '~', '@', '@a', '"', '\\', '#', ':',
  ',', '=', '/', '+', '%', 'D', 'DR3', 'U2..3', '5', '5ms', 'x3', 'name', 'until', 'by', 'pace', 'choose', 'from',
  'to', 'in', 'at', 'paused', 'within', 'anywhere', 'let', 'use', 'game', 'hands', 'spot', 'seen', 'ground', 'route',
  'rescue', 'rout', 'Let', ' ', ' ', ' ', '  ', '\t', '\n', '\n', '\n\n', '\r', '\r\n', '\ufeff', '\u00a0', '\u0085', '\u2028',
  '\u{1F409}', '\ud83d', '\udc09', 'é', '\0', '\v',
]; // prettier-ignore

describe('any text ends in a tree and findings', () => {
  test('signs and words of the language in any order', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...SIGNS), { maxLength: 60 }), (signs) => {
        expectSound(signs.join(''));
      }),
      { numRuns: 4000 },
    );
  });

  test('any characters', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 200 }), (text) => {
        expectSound(text);
      }),
      { numRuns: 1000 },
    );
  });

  test('bytes read as UTF-8', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
        expectSound(new TextDecoder().decode(bytes));
      }),
      { numRuns: 500 },
    );
  });

  test('good notes cut off anywhere', () => {
    fc.assert(
      fc.property(fc.oneof(tidyNote, messyNote), fc.nat(), (text, at) => {
        expectSound(text.slice(0, at % (text.length + 1)));
      }),
      { numRuns: 300 },
    );
  });

  test('good notes with pieces changed', () => {
    const change = fc.tuple(fc.nat(), fc.nat(20), fc.constantFrom(...SIGNS));
    fc.assert(
      fc.property(
        fc.oneof(tidyNote, messyNote),
        fc.array(change, { minLength: 1, maxLength: 5 }),
        (text, changes) => {
          let changed = text;
          for (const [at, length, sign] of changes) {
            const from = at % (changed.length + 1);
            changed = changed.slice(0, from) + sign + changed.slice(from + length);
          }
          expectSound(changed);
        },
      ),
      { numRuns: 500 },
    );
  });
});

/** Long texts. A walk that recursed, or that took quadratic time, would not come to an end here. */
const N = 100_000;
const MEGABYTE = 1 << 20;
const LONG: readonly (readonly [what: string, text: string])[] = [
  ...[
    '(',
    '[',
    '{',
    ')',
    ']',
    '}',
    'D&(',
    '([',
    '(]',
    'choose f { x { ',
    'choose ',
    '-',
    '*2',
    '&',
    '"',
    '@',
    '#',
    '.',
    '~',
    'until ',
  ].map((sign) => [`${sign} over and over in a phrase`, `let a = ${sign.repeat(N)}`] as const),
  ...[
    '(',
    '[',
    '{',
    '}',
    'choose f { x { ',
    'x { ',
    '"\n',
    '@a : ',
    'D by ',
    'inputs {',
    'pause P {',
    'cue ',
    'D = ',
    '(1, ',
  ].flatMap((sign) =>
    [
      'route a {',
      'game "X" {',
      'seen {',
      'ground y {',
      'hands {',
      'spot @a at ',
      'rescue @a in b {',
    ].map(
      (head) => [`${sign} over and over in ${head}`, `${head} ${sign.repeat(N / 10)}`] as const,
    ),
  ),
  ['brackets opened and closed', `let a = ${'('.repeat(N)}D${')'.repeat(N)}`],
  ['a megabyte of presses on one line', `let a = ${'D R3 '.repeat(MEGABYTE / 5)}`],
  ['a megabyte of joins on one line', `let a = D${'-R'.repeat(MEGABYTE / 2)}`],
  ['a megabyte of one letter', `let a = ${'D'.repeat(MEGABYTE)}`],
  ['a megabyte of one word', `let ${'a'.repeat(MEGABYTE)} = D`],
  ['a megabyte of digits', `let a = D${'7'.repeat(MEGABYTE)}`],
  ['a megabyte of dots', `let a = ${'.'.repeat(MEGABYTE)}`],
  ['a megabyte in a text', `use "${'x\\"'.repeat(MEGABYTE / 3)}"`],
  ['a megabyte in an open text', `use "${'\\'.repeat(MEGABYTE)}`],
  ['a megabyte of blanks', `let a = D${' '.repeat(MEGABYTE)}R`],
  ['a megabyte of blank lines', `let a = D${'\n'.repeat(MEGABYTE)}R`],
  ['a megabyte of blank lines with blanks', `let a = )${' \r\n'.repeat(MEGABYTE / 3)}R`],
  ['a megabyte of carriage returns', `let a = D${'\r'.repeat(MEGABYTE)}R`],
  ['comments that end in a carriage return', `let a = D${'# c\r'.repeat(N)}R`],
  ['comments', `let a = D\n${'# c\n'.repeat(N)}`],
  ['a megabyte of noise', '$!%'.repeat(MEGABYTE / 3)],
  ['a megabyte of half characters', '\ud83d'.repeat(MEGABYTE)],
  ['empty declarations on one line', 'let '.repeat(N)],
  ['declarations on one line', 'let a = D '.repeat(N / 4)],
  ['declarations on lines of their own', 'let a = D\n'.repeat(N / 4)],
  ['misspelled declarations', 'rout a { D }\n'.repeat(N / 10)],
  ['rows of a log', `seen {\n${'@a : U -> @b x3\n'.repeat(N / 4)}}`],
  ['moves of a ground', `ground y {\n${'U by (1, 2)\n'.repeat(N / 4)}}`],
  ['start spots', `route a from ${'@a x2, '.repeat(N / 4)} {}`],
  ['ways', `route a { choose f { ${'x { D } '.repeat(N / 4)} } }`],
  ['inputs', `game "X" { inputs {\n${'D = jump\n'.repeat(N / 10)}} }`],
  [
    'lines in two hundred brackets',
    `let a = ${'('.repeat(200)}${'D\n'.repeat(N)}${')'.repeat(200)}`,
  ],
];

describe('any length and depth comes to an end', () => {
  test.each(LONG)('%s', (_, text) => {
    const tree = parse(text);
    expect(tree.units.map(({ unit }) => unit.text).join('') === text).toBe(true);
    const once = format(tree);
    expect(bare(once) === bare(text)).toBe(true);
    expect(format(parse(once)) === once).toBe(true);
    // Indentation and columns stay in proportion to what was written.
    expect(once.length).toBeLessThan(text.length * 60 + 1000);
  });

  test('an edit in a long note', () => {
    const text = 'let a = D\n'.repeat(N / 4);
    let tree = parse(text);
    const kept = tree.units[0]?.unit;
    for (let k = 0; k < 50; k++) {
      tree = reparse(tree, {
        span: { start: 100_008, end: 100_009 },
        text: k % 2 === 0 ? ')' : 'R',
      });
    }
    expect(problemsOf(tree)).toEqual([]);
    expect(tree.units[0]?.unit).toBe(kept);
  });

  test('a name of a megabyte does not widen the columns of other rows', () => {
    const row = '@a : U -> @b x3\n';
    const text = `seen {\n@${'a'.repeat(MEGABYTE / 4)} : U -> @b\n${row.repeat(2000)}}`;
    expect(format(parse(text)).length).toBeLessThan(text.length * 2);
  });
});
