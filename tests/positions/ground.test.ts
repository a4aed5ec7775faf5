import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { knownOf } from '@core/positions/context.js';
import { endOf, scopeFor, traceOf } from './note.js';

const game = 'game "Tin Pier" { clock 60 settle 5 inputs { U = y -1 D = y +1 L = x -1 R = x +1 } pause P { open 2 dwell 4 resume 2 } }\n'; // prettier-ignore

describe('on open ground', () => {
  test('moves add up exactly, in decimals of any length', () => {
    const move = fc.record({ x: fc.integer({ min: -999_999, max: 999_999 }), y: fc.integer({ min: -999_999, max: 999_999 }), places: fc.integer({ min: 0, max: 6 }) }); // prettier-ignore
    const decimal = (units: number, places: number): string => {
      const digits = String(Math.abs(units)).padStart(places + 1, '0');
      const whole = digits.slice(0, digits.length - places);
      return `${units < 0 ? '-' : ''}${whole}${places === 0 ? '' : `.${digits.slice(-places)}`}`;
    };
    fc.assert(
      fc.property(
        fc.tuple(move, move, move),
        fc.array(fc.constantFrom(0, 1, 2), { minLength: 1, maxLength: 12 }),
        (moves, course) => {
          const letters = ['U', '[U1]', 'R2'];
          const by = moves.map(({ x, y, places }, i) => `  ${letters[i] ?? ''} by (${decimal(x, places)}, ${decimal(y, places)})`); // prettier-ignore
          const text = `${game}spot @o at (0, 0)\nground yard {\n${by.join('\n')}\n}\nroute r from @o { ${course.map((i) => letters[i]).join(' ')} }\n`;
          // The sums as whole millionths, which is no way of the product's.
          const sum = { x: 0n, y: 0n };
          for (const i of course) {
            const { x, y, places } = moves[i];
            sum.x += BigInt(x) * 10n ** BigInt(6 - places);
            sum.y += BigInt(y) * 10n ** BigInt(6 - places);
          }
          const shown = (value: bigint): string => {
            const [whole = '', part = ''] = decimal(Number(value), 6).split('.');
            const rest = part.replace(/0+$/, '');
            return `${whole}${rest === '' ? '' : `.${rest}`}`;
          };
          const end = sum.x === 0n && sum.y === 0n ? 'o' : `(${shown(sum.x)}, ${shown(sum.y)})`;
          expect(endOf(text), text).toEqual([end]);
        },
      ),
      { numRuns: 1000 },
    );
  });

  const yard = (route: string, more = ''): string =>
    `${game}spot @crate at (0, 0)\nspot @lid at (0, 10)\nspot @off at (0, 30)\nspot @still paused at (5, 0)\nground yard within (-20, 20) to (20, -20) {\n  D by (0, 5)\n  D2 by (0, 20)\n  R by (5, 0)\n  D R by (1, 1)\n}\n${more}route r from @crate { ${route} }\n`;

  test.each([
    ['a landing on a spot is the spot', 'D D', ['lid']],
    ['a landing beside all spots is its coordinates', 'D', ['(0, 5)']],
    ['corners may be given in any order', 'D*4', ['(0, 20)']],
    ['a paused spot is no place to stand', 'R', ['(5, 0)']],
    ['a landing outside, on no spot, is not known', 'D*5', ['?']],
    ['a landing outside, on a spot, is the spot', 'D D D2', ['off']],
    ['off the ground nothing adds up', 'D D D2 D', ['?']],
    ['the longest move whose items come next', 'D R', ['(1, 1)']],
    ['a move that does not come to rest is none', 'D-R', ['?']],
    ['a wait keeps a place', 'D .99 ~', ['(0, 5)']],
    ['an item that no move has is not known', 'L', ['?']],
    ['a claim puts the character back', 'L @lid D D', ['(0, 20)']],
    ['a great repeat of what goes nowhere', '(D .9)*2 D*0', ['lid']],
  ])('%s', (_, route, end) => {
    expect(endOf(yard(route.replace(' D*0', '')))).toEqual(end);
  });

  test('a row of the log comes before the moves', () => {
    const seen = 'seen { @crate : R -> @off x3 }\n';
    expect(endOf(yard('R', seen))).toEqual(['off']);
    expect(endOf(yard('D', seen))).toEqual(['(0, 5)']);
    expect(endOf(yard('D D D2 R', 'seen { @off : R -> @crate x2 }\n'))).toEqual(['crate']);
  });

  test('without corners has no outside', () => {
    const text = `${game}spot @o at (0, 0)\nground sea { D by (0, 3) }\nroute r from @o { D*1000 }\n`;
    expect(endOf(text)).toEqual(['(0, 3000)']);
  });

  test('of three axes', () => {
    const text = `${game}spot @o at (0, 0, 0)\nspot @p at (0, 0)\nground tower within (0, 0, 0) to (9, 9, 9) { D by (1, 2, 3)  U by (1, 1) }\nroute r from @o { D }\nroute s from @p { D }\nroute t from @o { U }\n`;
    expect(traceOf(text, 'r').steps[0]?.spots).toEqual(['(1, 2, 3)']);
    // A spot with fewer coordinates is not in it, and a move with fewer is not one of its.
    expect(traceOf(text, 's').steps[0]?.unknown).toBe(true);
    expect(traceOf(text, 't').steps[0]?.unknown).toBe(true);
  });

  test('leaves no trace in the log that was read', () => {
    const scope = scopeFor(yard('D*3'));
    expect(knownOf(scope).log.names).toEqual(['crate', 'lid', 'off', 'still']);
  });
});
