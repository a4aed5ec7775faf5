import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { add, compare, equals, fraction, mul, sub, toDecimal } from '@core/text/fraction.js';
import {
  type Clock,
  framesToSeconds,
  secondsToMilliseconds,
  tickTime,
  ticksOfMicroseconds,
  timeFormatter,
} from '@core/timeline/clock.js';

const knownClocks = [
  fraction(24_000, 1001),
  fraction(30),
  fraction(50),
  fraction(30_000, 1001),
  fraction(60_000, 1001),
  fraction(60),
];
const clocks: fc.Arbitrary<Clock> = fc.oneof(
  fc.constantFrom(...knownClocks),
  fc
    .tuple(fc.integer({ min: 1, max: 100_000 }), fc.integer({ min: 1, max: 3000 }))
    .map(([n, d]) => fraction(n, d)),
);
const MAX = Number.MAX_SAFE_INTEGER;

describe('a length in microseconds', () => {
  test.each([
    [250_000, fraction(60), 15, true, 15, 15],
    [250_000, fraction(50), 13, false, 12, 13],
    [240_000, fraction(50), 12, true, 12, 12],
    [400_000, fraction(30), 12, true, 12, 12],
    [1_001_000, fraction(30_000, 1001), 30, true, 30, 30],
    [1_000_000, fraction(30_000, 1001), 30, false, 29, 30],
    [16_683, fraction(60_000, 1001), 1, false, 0, 1],
    [1, fraction(60), 0, false, 0, 1],
    [0, fraction(60), 0, true, 0, 0],
    [10_000, fraction(50), 1, false, 0, 1],
    [MAX, fraction(1_000_000), MAX, true, MAX, MAX],
  ])('%d at %o is %d ticks', (us, clock, ticks, exact, below, above) => {
    expect(ticksOfMicroseconds(us, clock)).toEqual({ ticks, exact, below, above });
  });

  test.each([-1, 0.5, Number.NaN, Infinity, 2 ** 53])('of %s is refused', (us) => {
    expect(() => ticksOfMicroseconds(us, fraction(60))).toThrow(RangeError);
  });

  test('is refused where the ticks are beyond exact counting, not rounded', () => {
    expect(() => ticksOfMicroseconds(MAX, fraction(1_000_001))).toThrow('more than can be counted');
    // The length lies half a tick beyond the last exact count, so its upper neighbour is none.
    const between = fraction(2n * BigInt(MAX) + 1n, 2);
    expect(() => ticksOfMicroseconds(1_000_000, between)).toThrow(RangeError);
    expect(ticksOfMicroseconds(1_000_000, fraction(MAX)).above).toBe(MAX);
    expect(() => ticksOfMicroseconds(2, fraction(10n ** 30n))).toThrow(RangeError);
  });

  test('lies between its two neighbours, and is exact only where its ticks last just as long', () => {
    fc.assert(
      fc.property(fc.nat(10 ** 9), clocks, (us, clock) => {
        const { ticks, exact, below, above } = ticksOfMicroseconds(us, clock);
        const length = fraction(us, 1_000_000);
        expect(compare(tickTime(below, clock), length)).not.toBe(1);
        expect(compare(tickTime(above, clock), length)).not.toBe(-1);
        expect(above - below).toBe(exact ? 0 : 1);
        expect(equals(tickTime(ticks, clock), length)).toBe(exact);
        const under = sub(length, tickTime(below, clock));
        const over = sub(tickTime(above, clock), length);
        expect(ticks).toBe(compare(under, over) === -1 ? below : above);
      }),
    );
  });

  test('comes back exactly from the time of a tick that is a whole number of microseconds', () => {
    fc.assert(
      fc.property(fc.nat(10 ** 6), clocks, (turns, clock) => {
        // clock.num ticks last clock.den seconds.
        const ticks = turns * Number(clock.num);
        const us = turns * Number(clock.den) * 1_000_000;
        expect(ticksOfMicroseconds(us, clock)).toEqual({
          ticks,
          exact: true,
          below: ticks,
          above: ticks,
        });
      }),
    );
  });
});

describe('the time of a tick', () => {
  test('adds up, and a thousand times it are milliseconds', () => {
    fc.assert(
      fc.property(fc.bigInt(), fc.nat(), clocks, (a, b, clock) => {
        const both = add(tickTime(a, clock), tickTime(b, clock));
        expect(both).toEqual(tickTime(a + BigInt(b), clock));
        expect(framesToSeconds(a, clock)).toEqual(tickTime(a, clock));
        expect(mul(tickTime(a, clock), clock)).toEqual(fraction(a));
        expect(secondsToMilliseconds(both)).toEqual(mul(both, fraction(1000)));
      }),
    );
  });

  test.each([fraction(0), fraction(-30)])('needs a clock above zero, not %o', (clock) => {
    expect(() => tickTime(1, clock)).toThrow('above 0 ticks a second');
    expect(() => timeFormatter(clock)).toThrow(RangeError);
    expect(() => ticksOfMicroseconds(1, clock)).toThrow(RangeError);
  });

  test.each([0.5, Number.NaN, -Infinity, 2 ** 53])('is refused for %s', (tick) => {
    expect(() => tickTime(tick, fraction(60))).toThrow(RangeError);
  });
});

describe('the writer of times', () => {
  const ticks = fc.oneof(
    fc.nat(200_000),
    fc.integer({ min: -10_000, max: 0 }),
    fc.maxSafeInteger(),
    fc.nat(200_000).map((n) => MAX - n),
  );

  test('writes what the exact fraction prints, whatever the order of the ticks', () => {
    fc.assert(
      fc.property(
        clocks,
        fc.nat(12),
        fc.array(ticks, { maxLength: 60 }),
        (clock, places, order) => {
          const write = timeFormatter(clock, places);
          for (const tick of [...order, ...order]) {
            expect(write(tick)).toBe(toDecimal(tickTime(tick, clock), places));
            if (tick < MAX)
              expect(write(tick + 1)).toBe(toDecimal(tickTime(tick + 1, clock), places));
          }
        },
      ),
      { numRuns: 500 },
    );
  });

  test.each([
    ['a clock too fine to remember', fraction(599_401, 10_000)],
    ['a clock with a huge top', fraction(10n ** 30n, 3n)],
    ['a clock with a huge bottom', fraction(7n, 10n ** 30n)],
    ['a clock whose ticks last ages', fraction(3, MAX)],
    ['a clock of one tick a second', fraction(1)],
  ])('is exact on %s', (_, clock) => {
    const write = timeFormatter(clock, 3);
    for (const tick of [0, 1, 2, 3, 4, 6, 1_000_000, MAX - 1, MAX, -1, -5]) {
      expect(write(tick)).toBe(toDecimal(tickTime(tick, clock), 3));
    }
  });

  test('carries into the second where the decimals round up to it', () => {
    const write = timeFormatter(fraction(300), 2);
    expect([298, 299, 300, 599].map(write)).toEqual(['0.99', '1.00', '1.00', '2.00']);
    expect([0, 1, 29, 30, 45, 44].map(timeFormatter(fraction(30), 0))).toEqual([
      '0',
      '0',
      '1',
      '1',
      '2',
      '1',
    ]);
  });

  test.each([0.5, 1.5, Number.NaN, Infinity, 2 ** 53, -0.25])('refuses the tick %s', (tick) => {
    const write = timeFormatter(fraction(60));
    expect(write(1)).toBe('0.016667');
    expect(() => write(tick)).toThrow(RangeError);
  });

  test.each([-1, 0.5, Number.NaN])('refuses %s places at once', (places) => {
    expect(() => timeFormatter(fraction(60), places)).toThrow(RangeError);
  });
});
