import { describe, expect, test } from 'vitest';
import { codeLenses, lensFacts } from '@core/ide/code-lens.js';
import { toDecimal } from '@core/text/fraction.js';
import { analysed } from './at.js';

/** The titles over the routes of a note. */
function check(text: string, ...expected: readonly string[]): void {
  const { analysis } = analysed(text);
  const titles = codeLenses(analysis, 'note.tiptoe').map(({ span, route }) => {
    expect(analysis.file('note.tiptoe')?.tree.text.slice(span.start, span.end)).toBe(route);
    return `${route}: ${lensFacts(analysis, 'note.tiptoe', span.start)?.title ?? 'nothing'}`;
  });
  expect(titles).toEqual(expected);
}

describe('code lens', () => {
  test('ticks, frames and seconds of each route', () => {
    check(
      'use "game.tiptoe"\nroute a { U }\nlet b = U\nroute c { [U1] }',
      'a: 1 tick, 1 frame, 0.02 s',
      'c: 27 ticks, 1 frame, 0.54 s',
    );
  });
  test('a clock whose seconds are no decimals', () => {
    const { analysis } = analysed(
      'game "Ferry" { clock 30000/1001 inputs { U = y 1 } }\nroute a { U }',
    );
    const facts = lensFacts(analysis, 'note.tiptoe', 60);
    expect(facts?.seconds && toDecimal(facts.seconds, 6)).toBe('0.033367');
    expect(facts?.title).toBe('1 tick, 1 frame, 0.033 s');
  });
  test('the nominal run repeats until the log says so', () => {
    check(
      'use "log.tiptoe"\nroute a from @rush { U*1+ until @reed }',
      'a: 1 tick, 1 frame, 0.02 s',
    );
    check(
      'use "log.tiptoe"\nroute a from @reed { U*1+ until @reed }',
      'a: 9 ticks, 9 frames, 0.18 s',
    );
  });
  test('findings by severity, of this route alone', () => {
    check(
      'use "game.tiptoe"\nroute a { nope D1 }\nroute c { U }',
      'a: 1 tick, 1 frame, 0.02 s; 1 error, 1 note',
      'c: 1 tick, 1 frame, 0.02 s',
    );
  });
  test('a route that is too long, one that is broken', () => {
    check(
      'use "game.tiptoe"\nroute a { ((U*9000000)*9000000)*9000000 }',
      'a: longer than can be counted; 1 error',
    );
    check('use "game.tiptoe"\nroute a { U (R', 'a: 9 ticks, 9 frames, 0.18 s; 2 errors');
  });
  test('does not apply to other declarations', () => {
    check('use "game.tiptoe"\nlet a = U\nspot @b');
    check('route { U }');
    check('');
    const { analysis } = analysed('let a = U');
    expect(lensFacts(analysis, 'note.tiptoe', 4)).toBeUndefined();
    expect(lensFacts(analysis, 'none.tiptoe', 4)).toBeUndefined();
    expect(codeLenses(analysis, 'none.tiptoe')).toEqual([]);
  });
});
