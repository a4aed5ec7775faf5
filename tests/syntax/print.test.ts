import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { parse } from '@core/syntax/parse.js';
import { format } from '@core/syntax/print.js';
import { messyNote, tidyNote } from '../support/generate.js';
import { meaning, problemsOf } from '../support/trees.js';

describe('on random notes', () => {
  test('generated notes have no problems', () => {
    fc.assert(
      fc.property(fc.oneof(tidyNote, messyNote), (text) => {
        expect(problemsOf(parse(text))).toEqual([]);
      }),
      { numRuns: 200 },
    );
  });

  test('the tree and the comments stay, and formatting twice is formatting once', () => {
    fc.assert(
      fc.property(fc.oneof(tidyNote, messyNote), (text) => {
        const tree = parse(text);
        const once = format(tree);
        const again = parse(once);
        expect(meaning(again)).toEqual(meaning(tree));
        expect(format(again)).toBe(once);
      }),
      { numRuns: 500 },
    );
  });
});
