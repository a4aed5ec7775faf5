import { describe, expect, test } from 'vitest';
import { type HintKind, inlayHints } from '@core/ide/inlay-hints.js';
import { analysed } from './at.js';

/** The body of a route with its hints in `{}`. */
function check(
  body: string,
  kinds: readonly HintKind[],
  expected: string,
  head = 'route a from @reed',
): void {
  // prettier-ignore
  const text = `use "log.tiptoe"\n${head} {\n${body}\n}\n`;
  const start = text.indexOf('{\n') + 2;
  const { analysis } = analysed(text);
  const hints = inlayHints(analysis, 'note.tiptoe', 0, text.length, new Set(kinds));
  let out = body;
  for (const { offset, label } of [...hints].reverse()) {
    out = `${out.slice(0, offset - start)}{${label}}${out.slice(offset - start)}`;
  }
  expect(out).toBe(expected);
}

describe('inlay hints', () => {
  test('the spots behind each item', () => {
    check('U U', ['spots'], 'U{@past @rush} U{@reed @?}');
    check('[U1] shuffle', ['spots'], '[U1]{@tern} shuffle{@past}');
    check('J', ['spots'], 'J{@?}');
  });
  test('a claim that says what the log says stands alone', () => {
    check('[U1] @tern shuffle', ['spots'], '[U1] @tern shuffle{@past}');
    check('[U1] @reed', ['spots'], '[U1]{@tern} @reed');
  });
  test('the pace, in groups too; a written wait needs none', () => {
    check('U R .3 D ~ D', ['pace'], 'U {~7}R .3 D ~ D');
    check('(U R)*2 D', ['pace'], '(U {~7}R)*2 {~7}D');
    check('pace .2 U R-D J', ['pace'], 'pace .2 U {.2}R-D {.2}J');
    check('choose end { slow { U R } fast { U D } }', ['pace'], 'choose end { slow { U {~7}R } fast { U D } }'); // prettier-ignore
  });
  test('the frames that have run, behind a chain of joined items once', () => {
    check('U R3-D2 [U1]', ['frames'], 'U{f1} R3-D2{f13} [U1]{f21}');
    check('U*2+ until @reed R', ['frames'], 'U*2+ until @reed{f9} R{f17}');
  });
  test('all at once, and none', () => {
    check('U R', ['spots', 'pace', 'frames'], 'U{@past @rush}{f1} {~7}R{@?}{f9}');
    check('U R', [], 'U R');
  });
  test('phrases and rescues have their pace', () => {
    const { analysis } = analysed('use "game.tiptoe"\nlet a = U R');
    expect(inlayHints(analysis, 'note.tiptoe', 0, 99).map(({ label }) => label)).toEqual(['~7']);
  });
  test('only in the stretch that is asked for', () => {
    const text = 'use "game.tiptoe"\nroute a { U R }\nroute b { U D }\n';
    const { analysis } = analysed(text);
    const at = text.indexOf('route b');
    const hints = inlayHints(analysis, 'note.tiptoe', at, text.length);
    expect(hints.map(({ label }) => label)).toEqual(['f1', '~7', 'f9']);
    expect(hints.every(({ offset }) => offset > at)).toBe(true);
  });
  test('does not apply where nothing is followed, too long, or not there', () => {
    check('U R', ['spots'], 'U R', 'route a');
    check('((U*9000000)*9000000)*9000000', ['frames', 'pace'], '((U*9000000)*9000000)*9000000');
    const { analysis } = analysed('use "game.tiptoe"\nspot @a');
    expect(inlayHints(analysis, 'note.tiptoe', 0, 99)).toEqual([]);
    expect(inlayHints(analysis, 'none.tiptoe', 0, 99)).toEqual([]);
  });
  test('in a declaration that is broken further on', () => {
    check('U R ) nonsense *', ['pace'], 'U {~7}R ) nonsense *');
  });
});
