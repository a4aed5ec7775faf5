import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { TextEdit } from '@core/text/edit.js';
import { parse, reparse } from '@core/syntax/parse.js';
import type { Tree } from '@core/syntax/tree.js';
import { messyNote, tidyNote } from '../support/generate.js';

/** Pieces that change where declarations begin and end, or what brackets hold. */
const PIECES = [
  '', ' ', '\n', '\r', '\r\n', '\n\n', '#', '# c\n', '"', '{', '}', '(', ')', '[', ']', '-', '->', '*2',
  'let a = D\n', 'route x {\n', 'rout x {', '\nrout x {', '}\nrout x {\n', 'let', 'le', '\nseen {', '@a : U -> @b',
  'spot @a', 'use "x"', 'xyz', '\nxyz\n', '\ufeff', 'é', '\u{1F409}', '\\', '~', '.', '5', 'D',
]; // prettier-ignore

const start = fc.oneof(
  {
    weight: 2,
    arbitrary: fc.array(fc.constantFrom(...PIECES), { maxLength: 40 }).map((p) => p.join('')),
  },
  { weight: 1, arbitrary: tidyNote },
  { weight: 1, arbitrary: messyNote },
);
const change = fc.record({
  at: fc.nat(),
  length: fc.oneof(fc.constant(0), fc.nat(3), fc.nat(60)),
  text: fc.oneof(
    fc.constantFrom(...PIECES),
    fc.array(fc.constantFrom(...PIECES), { maxLength: 6 }).map((p) => p.join('')),
  ),
});

function editOf(
  text: string,
  { at, length, text: put }: { at: number; length: number; text: string },
): TextEdit {
  const from = at % (text.length + 1);
  return { span: { start: from, end: Math.min(text.length, from + length) }, text: put };
}

/** Units tile the text: this is also the printer of a tree as it was written. */
function written(tree: Tree): string {
  return tree.units.map(({ unit }) => unit.text).join('');
}

function expectTiles(tree: Tree): void {
  expect(written(tree)).toBe(tree.text);
  let at = 0;
  for (const placed of tree.units) {
    expect(placed.start).toBe(at);
    at += placed.unit.text.length;
  }
}

/** The tree is what its whole text parses to. Strings are compared first, since that is quick. */
function expectParsed(tree: Tree): void {
  const whole = parse(tree.text);
  if (JSON.stringify(tree) !== JSON.stringify(whole)) expect(tree).toEqual(whole);
}

describe('an edit', () => {
  test('gives the tree of the whole new text, for any edit of any text', () => {
    fc.assert(
      fc.property(start, fc.array(change, { minLength: 1, maxLength: 12 }), (text, changes) => {
        let tree = parse(text);
        expectTiles(tree);
        for (const one of changes) {
          tree = reparse(tree, editOf(tree.text, one));
          expectParsed(tree);
        }
        expectTiles(tree);
      }),
      { numRuns: 600 },
    );
  });

  test('leaves no trace after thousands of edits', () => {
    const random = mulberry(7);
    let tree = parse(fc.sample(tidyNote, { numRuns: 1, seed: 3 })[0] ?? '');
    for (let k = 0; k < 4000; k++) {
      const put = PIECES[Math.floor(random() * PIECES.length)] ?? '';
      const length = tree.text.length > 3000 ? 40 : Math.floor(random() * 4);
      tree = reparse(
        tree,
        editOf(tree.text, { at: Math.floor(random() * 1e9), length, text: put }),
      );
      if (k % 20 === 0) expectParsed(tree);
    }
    expectParsed(tree);
  });

  const note = 'use "a.tiptoe"\n\nlet a = D R\n\n# about b\nlet b = a*2\n\nroute r {\n  b\n}\n';

  test('parses again only the declaration that it is in', () => {
    const before = parse(note);
    const at = note.indexOf('R\n');
    const after = reparse(before, { span: { start: at, end: at + 1 }, text: 'L L' });
    expect(after.units.map(({ unit }, k) => unit === before.units[k]?.unit)).toEqual([
      true,
      false,
      true,
      true,
    ]);
    expect(after.units[3]?.start).toBe((before.units[3]?.start ?? 0) + 2);
  });

  test('at the border of two declarations keeps all others', () => {
    const before = parse(note);
    const at = before.units[2]?.start ?? 0;
    const after = reparse(before, { span: { start: at, end: at }, text: '\n' });
    expect(after.units[0]?.unit).toBe(before.units[0]?.unit);
    expect(after.units[3]?.unit).toBe(before.units[3]?.unit);
  });

  test('that takes a declaration its word gives its text to the one in front', () => {
    const before = parse(note);
    const at = note.indexOf('let b');
    const after = reparse(before, { span: { start: at, end: at + 4 }, text: '' });
    expect(after).toEqual(parse(after.text));
    expect(after.units).toHaveLength(3);
    expect(after.units[2]?.unit).toBe(before.units[3]?.unit);
  });

  test('that closes a brace lets a misspelled word behind it begin a declaration', () => {
    const before = parse('route a {\nrout b {\n}\n');
    expect(before.units).toHaveLength(1);
    const after = reparse(before, { span: { start: 9, end: 9 }, text: '}' });
    expect(after.units.map(({ unit }) => unit.declaration.kind)).toEqual(['route', 'route']);
    expect(after).toEqual(parse(after.text));
  });
});

test('a backslash at the end of a line does not reach into the next declaration', () => {
  const tree = parse('cue "\\\nlet a = D\n');
  expect(tree.units.map(({ unit }) => unit.declaration.kind)).toEqual(['broken', 'let']);
});

/** A small seeded generator, so that the long walk is the same in every run. */
function mulberry(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
