import { Fraction as Reference } from 'fraction.js';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Fraction,
  add,
  compare,
  div,
  floor,
  fraction,
  mul,
  parseDecimal,
  sub,
  toDecimal,
} from '@core/text/fraction.js';
import {
  framesToSeconds,
  secondsToMilliseconds,
  tickTime,
  ticksOfMicroseconds,
  timeFormatter,
} from '@core/timeline/clock.js';

// The fraction.js package (5.3, MIT) holds its sign apart from the part above the line.
function same(ours: Fraction, theirs: Reference): boolean {
  return ours.num === theirs.s * theirs.n && ours.den === theirs.d;
}

const rates = [
  [24_000, 1001],
  [24, 1],
  [25, 1],
  [30_000, 1001],
  [30, 1],
  [50, 1],
  [60_000, 1001],
  [60, 1],
] as const;

describe('fractions against fraction.js', () => {
  const parts = fc.tuple(
    fc.bigInt(),
    fc.bigInt().filter((d) => d !== 0n),
  );

  test('arithmetic, order and floor agree', () => {
    fc.assert(
      fc.property(parts, parts, ([an, ad], [bn, bd]) => {
        const [a, b] = [fraction(an, ad), fraction(bn, bd)];
        const [x, y] = [new Reference(an, ad), new Reference(bn, bd)];
        expect(same(a, x)).toBe(true);
        expect(same(add(a, b), x.add(y))).toBe(true);
        expect(same(sub(a, b), x.sub(y))).toBe(true);
        expect(same(mul(a, b), x.mul(y))).toBe(true);
        if (bn !== 0n) expect(same(div(a, b), x.div(y))).toBe(true);
        expect(compare(a, b)).toBe(Math.sign(x.compare(y)));
        expect(same(fraction(floor(a)), x.floor())).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });

  test('a written decimal is read the same', () => {
    const written = fc
      .tuple(
        fc.constantFrom('', '-', '+'),
        fc.bigInt({ min: 0n }),
        fc.stringMatching(/^[0-9]{1,20}$/),
      )
      .map(([sign, whole, decimals]) => `${sign}${whole}.${decimals}`);
    fc.assert(
      fc.property(written, (text) => {
        const ours = parseDecimal(text);
        expect(ours !== undefined && same(ours, new Reference(text))).toBe(true);
      }),
      { numRuns: 2000 },
    );
  });
});

describe.each(rates)('the clock %d/%d against fraction.js', (num, den) => {
  const clock = fraction(num, den);
  const reference = new Reference(num, den);

  test('ticks have their exact times, and the writer prints them to the nearest millionth', () => {
    const write = timeFormatter(clock);
    const half = new Reference(1n, 2_000_000n);
    fc.assert(
      fc.property(fc.oneof(fc.nat(10 ** 7), fc.maxSafeNat()), (tick) => {
        const time = new Reference(tick).div(reference);
        expect(same(tickTime(tick, clock), time)).toBe(true);
        expect(same(secondsToMilliseconds(tickTime(tick, clock)), time.mul(1000))).toBe(true);
        const printed = new Reference(write(tick));
        // Half up: above time - half a millionth, at most time + half a millionth.
        expect(printed.sub(time).compare(half)).toBeLessThanOrEqual(0);
        expect(time.sub(printed).compare(half)).toBeLessThan(0);
        expect(write(tick)).toMatch(/^\d+\.\d{6}$/);
      }),
      { numRuns: 1000 },
    );
  });

  test('a length in time is a whole number of ticks just where the fractions say so', () => {
    const lengths = fc.oneof(
      fc.nat(10 ** 10),
      fc.nat(10 ** 5).map((ms) => ms * 1000),
    );
    fc.assert(
      fc.property(lengths, (us) => {
        const ticks = new Reference(us, 1_000_000).mul(reference);
        const ours = ticksOfMicroseconds(us, clock);
        expect(ours.exact).toBe(ticks.d === 1n);
        expect(ours.below).toBe(ticks.floor().valueOf());
        expect(ours.above).toBe(ticks.ceil().valueOf());
      }),
      { numRuns: 1000 },
    );
  });
});

// Computed with fraction.js from the rates of SMPTE ST 12-1 (from memory: exactly 30000/1001 for
// the colour rate, and its multiples). Columns: microseconds of a tick, the time of ticks 100 and
// 1,000,000, whole ticks in 10 s, an hour and a day, 90 kHz units and 48 kHz samples of a tick.
describe('the clocks of video', () => {
  test.each([
    [
      24_000,
      1001,
      '41708.333333',
      '4.170833333',
      [125_125, 3],
      239,
      86_313,
      2_071_528,
      '3753.75',
      '2002.00',
    ],
    [
      24,
      1,
      '41666.666667',
      '4.166666667',
      [125_000, 3],
      240,
      86_400,
      2_073_600,
      '3750.00',
      '2000.00',
    ],
    [
      25,
      1,
      '40000.000000',
      '4.000000000',
      [40_000, 1],
      250,
      90_000,
      2_160_000,
      '3600.00',
      '1920.00',
    ],
    [
      30_000,
      1001,
      '33366.666667',
      '3.336666667',
      [100_100, 3],
      299,
      107_892,
      2_589_410,
      '3003.00',
      '1601.60',
    ],
    [
      30,
      1,
      '33333.333333',
      '3.333333333',
      [100_000, 3],
      300,
      108_000,
      2_592_000,
      '3000.00',
      '1600.00',
    ],
    [
      50,
      1,
      '20000.000000',
      '2.000000000',
      [20_000, 1],
      500,
      180_000,
      4_320_000,
      '1800.00',
      '960.00',
    ],
    [
      60_000,
      1001,
      '16683.333333',
      '1.668333333',
      [50_050, 3],
      599,
      215_784,
      5_178_821,
      '1501.50',
      '800.80',
    ],
    [
      60,
      1,
      '16666.666667',
      '1.666666667',
      [50_000, 3],
      600,
      216_000,
      5_184_000,
      '1500.00',
      '800.00',
    ],
  ] as const)('%d/%d', (num, den, period, hundredth, millionth, ten, hour, day, units, samples) => {
    const clock = fraction(num, den);
    const tick = tickTime(1, clock);
    expect(toDecimal(mul(tick, fraction(1_000_000)), 6)).toBe(period);
    expect(toDecimal(tickTime(100, clock), 9)).toBe(hundredth);
    expect(tickTime(1_000_000, clock)).toEqual(fraction(millionth[0], millionth[1]));
    const wholeTicks = (seconds: number) => ticksOfMicroseconds(seconds * 1_000_000, clock).below;
    expect([10, 3600, 86_400].map(wholeTicks)).toEqual([ten, hour, day]);
    expect(toDecimal(mul(tick, fraction(90_000)), 2)).toBe(units);
    expect(toDecimal(mul(tick, fraction(48_000)), 2)).toBe(samples);
  });

  test('five frames at 30000/1001 are 8008 samples at 48 kHz (the known NTSC audio cadence)', () => {
    const five = framesToSeconds(5, fraction(30_000, 1001));
    expect(mul(five, fraction(48_000))).toEqual(fraction(8008));
  });

  test('milliseconds at 60000/1001', () => {
    const clock = fraction(60_000, 1001);
    const shown = [1, 2, 3, 60, 3600].map((tick) =>
      toDecimal(secondsToMilliseconds(tickTime(tick, clock)), 6),
    );
    expect(shown).toEqual(['16.683333', '33.366667', '50.050000', '1001.000000', '60060.000000']);
  });

  // Common practice, no source.
  test('at 30 a second one frame is a thirtieth of a second', () => {
    expect(framesToSeconds(1, fraction(30))).toEqual(fraction(1, 30));
  });
});
