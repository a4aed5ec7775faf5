import fc from 'fast-check';
import { expect, test } from 'vitest';
import { selection } from '@core/ide/selection.js';
import { messyNote } from '../support/generate.js';
import { world } from './world.js';

/** What is selected step by step, as text; the last two steps, declaration and file, are left out. */
function check(marked: string, ...wanted: string[]): void {
  const { analysis, path, offset, texts } = world(`${marked}\nlet last = U`);
  const text = texts.get(path) ?? '';
  const found = selection(analysis, path, offset).map(({ start, end }) => text.slice(start, end));
  expect(found.slice(-2)).toEqual([marked.replace('|', ''), text]);
  expect(found.slice(0, -2)).toEqual(wanted);
}

test('from a letter out', () => {
  check(
    'route over { D3-[D|R2*2 "go" U]-J @lamp L }',
    'R', 'DR2', 'DR2*2', 'DR2*2 "go"', 'DR2*2 "go" U', '[DR2*2 "go" U]',
    'D3-[DR2*2 "go" U]-J @lamp', 'D3-[DR2*2 "go" U]-J @lamp L',
  ); // prettier-ignore
});

test('a phrase in groups and holds', () => {
  check('let a = J&((ho|p D)*2)', 'hop', 'hop D', '(hop D)', '(hop D)*2', 'J&((hop D)*2)');
});

test('ways of a choose', () => {
  check(
    'route over { choose far { a { U| D } b { R } } L }',
    'U', 'U D', 'a { U D }', 'choose far { a { U D } b { R } }',
    'choose far { a { U D } b { R } } L',
  ); // prettier-ignore
});

test('a note without, then with its quotes', () => {
  check('let a = D "on th|e pier"', 'on the pier', '"on the pier"', 'D "on the pier"');
});

test('a claim, an until, a spot of a header', () => {
  check('route over { D @la|mp R }', '@lamp', 'D @lamp', 'D @lamp R');
  check('route over { D*2+ until @la|mp R }', '@lamp', '*2+ until @lamp', 'D*2+ until @lamp', 'D*2+ until @lamp R'); // prettier-ignore
  check('route over from @pier @la|mp { D }', '@lamp');
});

test('a row of the log', () => {
  check(
    'seen { @lamp : U D| -> @pier x3  @pier : U -> @lamp }',
    'D',
    'U D',
    '@lamp : U D -> @pier x3',
  );
  check('seen { @lamp : U D -> @p|ier x3 }', '@pier', '@lamp : U D -> @pier x3');
});

test('a line of the game', () => {
  check('game "Pier" { inputs { D = y +|1 "down" } }', '+1', 'D = y +1 "down"');
  check('game "Pier" { pause P { open 4| } }', '4', 'open 4', 'pause P { open 4 }');
});

test('a comment', () => {
  check('route over { D # on| it\n R }', '# on it', 'D # on it\n R');
});

test('with the comments above', () => {
  const { analysis, path, offset, texts } = world('## Docs\nlet a = D|\n');
  const text = texts.get(path) ?? '';
  expect(selection(analysis, path, offset).map((s) => text.slice(s.start, s.end))).toEqual([
    'D', 'let a = D', '## Docs\nlet a = D', text,
  ]); // prettier-ignore
});

test('the gap in a chain is the chain', () => {
  check('let a = D3 -| DR2 U', 'D3 - DR2', 'D3 - DR2 U');
});

test('of two that touch the one behind the cursor', () => {
  check('let a = [D]|[R]', '[R]', '[D][R]');
});

test('what cannot be read is the file', () => {
  const { analysis, path, offset } = world('?|??');
  expect(selection(analysis, path, offset).at(-1)).toEqual({ start: 0, end: 3 });
});

test('nothing in a file that is not there', () => {
  expect(selection(world('').analysis, 'no.tiptoe', 0)).toEqual([]);
});

test('every step holds the one before and is larger', () => {
  fc.assert(
    fc.property(messyNote, fc.nat(), (text, at) => {
      const { analysis, path, texts } = world(text.replaceAll('|', ''));
      const note = texts.get(path) ?? '';
      const offset = at % (note.length + 1);
      const found = selection(analysis, path, offset);
      expect(found.at(-1)).toEqual({ start: 0, end: note.length });
      found.reduce((inner, outer) => {
        expect(outer.start <= inner.start && inner.end <= outer.end).toBe(true);
        expect(outer.end - outer.start).toBeGreaterThan(inner.end - inner.start);
        return outer;
      });
      for (const { start, end } of found) expect(start <= offset && offset <= end).toBe(true);
    }),
    { numRuns: 200 },
  );
});
