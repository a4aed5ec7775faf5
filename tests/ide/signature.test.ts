import { describe, expect, test } from 'vitest';
import { signature } from '@core/ide/signature.js';
import { atCursor } from './at.js';

/** The signature at the cursor, its active part in `<>`; undefined where there is none. */
function check(marked: string, expected: string | undefined): void {
  const { analysis, path, offset } = atCursor(marked);
  const found = signature(analysis, path, offset);
  const active = found?.active === undefined ? undefined : found.parts[found.active];
  const label =
    found && active
      ? `${found.label.slice(0, active.span.start)}<${found.label.slice(active.span.start, active.span.end)}>${found.label.slice(active.span.end)}`
      : found?.label;
  expect(label).toBe(expected);
}

describe('signature help', () => {
  test('for settings of a game', () => {
    check('game "Ferry" { clock | }', 'clock <ticks>');
    check('game "Ferry" { clock 300|00 }', 'clock <ticks>');
    check('game "Ferry" { clock 30000/| }', 'clock <ticks>');
    check('game "Ferry" { clock 50 settle | }', 'settle <frames>');
    check('game "Ferry" { cue | }', 'cue <frames> "look"');
    check('game "Ferry" { cue 1 | }', 'cue frames <"look">');
    check('game "Ferry" { clock 50 pause P { open 4 dwell | } }', 'dwell <ticks>');
    check('game "Ferry" { pause | }', 'pause <letter> { … }');
  });
  test('for settings of hands, both forms of spread', () => {
    check('hands { spread | }', 'spread <length> | press length pause length');
    check('hands { spread press 9ms | }', 'spread length | <press length pause length>');
    check('hands tired { shape | }', 'shape <word>');
  });
  test('for the heads of declarations', () => {
    check('route |', 'route NAME ["TITLE"] [from SPOTS | from anywhere] [to @GOAL] { … }');
    check('route a from @b |', 'route NAME ["TITLE"] [from SPOTS | from anywhere] [to @GOAL] { … }'); // prettier-ignore
    check('ground yard within (|', undefined);
    check('spot @a |', 'spot @NAME [paused] [at (X, Y)] ["LOOK"]');
  });
  test('does not apply behind a value, in a sequence, in comments, or to words of no meaning', () => {
    check('game "Ferry" { clock 50 | }', undefined);
    check('game "Ferry" { clock 50\n| }', undefined);
    check('game "Ferry" { inputs { D = | } }', undefined);
    check('route a { U | }', undefined);
    check('route a { U } |', undefined);
    check('hands { # spread |\n}', undefined);
    check('hands { wobble | }', undefined);
    check('|', undefined);
    check('nonsense |', undefined);
  });
});
