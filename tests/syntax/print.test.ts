import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse } from '@core/syntax/parse.js';
import { format } from '@core/syntax/print.js';
import { messyNote, tidyNote } from '../support/generate.js';
import { meaning, problemsOf, sameTree } from '../support/trees.js';

/** Generated notes stand alone, so that none of them has a `use`. */
const DECLARATIONS = ['game', 'ground', 'hands', 'let', 'rescue', 'route', 'seen', 'spot'];
const ITEMS = ['choose', 'group', 'hold', 'pace', 'pause', 'phrase', 'press', 'settle', 'wait'];

describe('on random notes', () => {
  test('generated notes have no problems', () => {
    fc.assert(
      fc.property(fc.oneof(tidyNote, messyNote), (text) => {
        expect(problemsOf(parse(text))).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });

  test('generated notes hold every kind of declaration and of item', () => {
    const kinds = new Set<string>();
    for (const text of fc.sample(tidyNote, { numRuns: 100, seed: 1 })) {
      const said = JSON.stringify(parse(text).units.map(({ unit }) => unit.declaration));
      for (const [, kind] of said.matchAll(/"kind":"(\w+)"/g)) kinds.add(kind ?? '');
    }
    expect([...kinds].sort()).toEqual([...DECLARATIONS, ...ITEMS, 'claim', 'note'].sort());
  });

  test('the tree and the comments stay, and formatting twice is formatting once', () => {
    fc.assert(
      fc.property(fc.oneof(tidyNote, messyNote), (text) => {
        const tree = parse(text);
        const once = format(tree);
        const again = parse(once);
        if (!sameTree(again, tree)) expect(meaning(again)).toEqual(meaning(tree));
        expect(format(again)).toBe(once);
      }),
      { numRuns: 500 },
    );
  });
});
