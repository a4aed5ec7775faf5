import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Fraction,
  add,
  compare,
  div,
  equals,
  floor,
  fraction,
  mul,
  parseDecimal,
  sub,
  toDecimal,
  toNumber,
} from '@core/text/fraction.js';

const parts = fc.oneof(
  fc.bigInt({ min: -50n, max: 50n }),
  fc.bigInt({ min: -(10n ** 40n), max: 10n ** 40n }),
);
const anyFraction = fc
  .tuple(
    parts,
    parts.filter((d) => d !== 0n),
  )
  .map(([n, d]) => fraction(n, d));

/** `toDecimal` said again in words of school: long division digit by digit, then a carry. */
function longDivision(f: Fraction, places: number): string {
  let rest = f.num < 0n ? -f.num : f.num;
  let digits = (rest / f.den).toString();
  const wholeLength = digits.length;
  for (let i = 0; i <= places; i++) {
    rest = (rest % f.den) * 10n;
    digits += (rest / f.den).toString();
  }
  const kept = digits.slice(0, -1).split('');
  if (Number(digits.slice(-1)) >= 5) {
    let at = kept.length - 1;
    while (at >= 0 && kept[at] === '9') kept[at--] = '0';
    if (at >= 0) kept[at] = String(Number(kept[at]) + 1);
    else kept.unshift('1');
  }
  const whole = kept.length - places;
  expect(whole - wholeLength).toBeLessThanOrEqual(1);
  const text = kept.slice(0, whole).join('') + (places > 0 ? `.${kept.slice(whole).join('')}` : '');
  return f.num < 0n && /[1-9]/.test(text) ? `-${text}` : text;
}

describe('a fraction', () => {
  test('is in lowest terms with its sign above the line', () => {
    expect(fraction(6, -4)).toEqual({ num: -3n, den: 2n });
    expect(fraction(-6, -4)).toEqual({ num: 3n, den: 2n });
    expect(fraction(0, -7)).toEqual({ num: 0n, den: 1n });
    expect(fraction(-0)).toEqual({ num: 0n, den: 1n });
    expect(fraction(60_000n, 1001)).toEqual({ num: 60_000n, den: 1001n });
    fc.assert(
      fc.property(parts, parts, parts, (n, d, k) => {
        fc.pre(d !== 0n && k !== 0n);
        expect(fraction(n * k, d * k)).toEqual(fraction(n, d));
        expect(fraction(n, d).den > 0n).toBe(true);
      }),
    );
  });

  test.each([
    [1, 0, '0 below the line'],
    [0n, 0n, '0 below the line'],
    [0.5, 1, '0.5 is not a whole number'],
    [1, 2.5, '2.5 is not a whole number'],
    [Number.NaN, 1, 'NaN'],
    [Infinity, 1, 'Infinity'],
    [2 ** 53, 1, 'held exactly'],
  ])('%s / %s is refused', (n, d, reason) => {
    expect(() => fraction(n, d)).toThrow(RangeError);
    expect(() => fraction(n, d)).toThrow(reason);
  });

  test('has the arithmetic of a field', () => {
    const zero = fraction(0);
    const one = fraction(1);
    fc.assert(
      fc.property(anyFraction, anyFraction, anyFraction, (a, b, c) => {
        expect(add(a, b)).toEqual(add(b, a));
        expect(mul(a, b)).toEqual(mul(b, a));
        expect(add(add(a, b), c)).toEqual(add(a, add(b, c)));
        expect(mul(mul(a, b), c)).toEqual(mul(a, mul(b, c)));
        expect(mul(a, add(b, c))).toEqual(add(mul(a, b), mul(a, c)));
        expect(sub(add(a, b), b)).toEqual(a);
        expect(sub(a, a)).toEqual(zero);
        expect(mul(a, one)).toEqual(a);
        if (b.num !== 0n) expect(mul(div(a, b), b)).toEqual(a);
        else expect(() => div(a, b)).toThrow(RangeError);
      }),
    );
  });

  test('has an order that agrees with differences and with equality', () => {
    fc.assert(
      fc.property(anyFraction, anyFraction, anyFraction, (a, b, c) => {
        const { num } = sub(a, b);
        expect(compare(a, b)).toBe(num < 0n ? -1 : num > 0n ? 1 : 0);
        expect(equals(a, b)).toBe(compare(a, b) === 0);
        expect(compare(add(a, c), add(b, c))).toBe(compare(a, b));
        expect(equals(a, a)).toBe(true);
      }),
    );
  });

  test('has a floor at most one below it', () => {
    expect(floor(fraction(-1, 3))).toBe(-1n);
    expect(floor(fraction(-6, 3))).toBe(-2n);
    fc.assert(
      fc.property(anyFraction, (f) => {
        const above = sub(f, fraction(floor(f)));
        expect(compare(above, fraction(0))).not.toBe(-1);
        expect(compare(above, fraction(1))).toBe(-1);
      }),
    );
  });
});

describe('a written decimal', () => {
  test.each([
    ['0.25', 1n, 4n],
    ['-0.5', -1n, 2n],
    ['+1', 1n, 1n],
    ['30000', 30_000n, 1n],
    ['59.94', 2997n, 50n],
    ['0', 0n, 1n],
    ['-0.000', 0n, 1n],
    ['007.10', 71n, 10n],
  ])('%s is %s/%s', (text, num, den) => {
    expect(parseDecimal(text)).toEqual({ num, den });
  });

  test.each([
    '',
    '.',
    '.5',
    '5.',
    '-',
    '+',
    '--1',
    '+-1',
    '1.2.3',
    '1e3',
    '1_000',
    '1,5',
    ' 1',
    '1 ',
    '1\n',
    '0x10',
    'Infinity',
    'NaN',
    '1/2',
    '5ms',
    '٣',
    '１',
    '1n',
    '−1',
  ])('%j is none', (text) => {
    expect(parseDecimal(text)).toBeUndefined();
  });

  test('has at most 300 digits', () => {
    expect(parseDecimal('9'.repeat(300))).toEqual(fraction(10n ** 300n - 1n));
    expect(parseDecimal(`-0.${'0'.repeat(298)}1`)).toEqual(fraction(-1n, 10n ** 299n));
    expect(parseDecimal('9'.repeat(301))).toBeUndefined();
    expect(parseDecimal(`0.${'0'.repeat(299)}1`)).toBeUndefined();
    expect(parseDecimal('9'.repeat(5_000_000))).toBeUndefined();
  });

  test('comes back from its print', () => {
    fc.assert(
      fc.property(fc.bigInt(), fc.nat(40), (scaled, places) => {
        const f = fraction(scaled, 10n ** BigInt(places));
        expect(parseDecimal(toDecimal(f, places))).toEqual(f);
      }),
    );
  });

  test('is never an exception, whatever the text', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[-+.eE/ x0-9]*$/), (text) => {
        expect(parseDecimal(text) !== undefined).toBe(/^[+-]?\d+(\.\d+)?$/.test(text));
      }),
    );
  });
});

describe('a printed decimal', () => {
  test.each([
    [1, 8, 2, '0.13'],
    [-1, 8, 2, '-0.13'],
    [3, 8, 2, '0.38'],
    [1, 2, 0, '1'],
    [-1, 2, 0, '-1'],
    [49, 100, 0, '0'],
    [-49, 100, 0, '0'],
    [-1, 1000, 2, '0.00'],
    [-1, 200, 2, '-0.01'],
    [999_999, 1_000_000, 5, '1.00000'],
    [1001, 60_000, 6, '0.016683'],
    [0, 1, 3, '0.000'],
  ])('%d/%d to %d places is %s', (n, d, places, text) => {
    expect(toDecimal(fraction(n, d), places)).toBe(text);
  });

  test('is what long division gives', () => {
    fc.assert(
      fc.property(anyFraction, fc.nat(30), (f, places) => {
        expect(toDecimal(f, places)).toBe(longDivision(f, places));
      }),
      { numRuns: 1000 },
    );
  });

  test.each([-1, 0.5, Number.NaN, Infinity, 301])('with %s places is refused', (places) => {
    expect(() => toDecimal(fraction(1), places)).toThrow(RangeError);
  });
});

describe('a fraction as a double', () => {
  test('gives back every finite double', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (x) => {
        fc.pre(Math.abs(x) >= 2 ** -1022 || x === 0);
        // A double is a whole number over a power of two; doubling it to a whole number is exact.
        let [scaled, den] = [x, 1n];
        while (!Number.isInteger(scaled)) {
          scaled *= 2;
          den *= 2n;
        }
        expect(toNumber(fraction(BigInt(scaled), den))).toBe(x === 0 ? 0 : x);
      }),
      { numRuns: 1000 },
    );
  });

  test('is the nearest double, a tie going to the even one', () => {
    const big = 2n ** 53n;
    expect(toNumber(fraction(big + 1n))).toBe(2 ** 53);
    expect(toNumber(fraction(big + 3n))).toBe(2 ** 53 + 4);
    expect(toNumber(fraction((big + 1n) * 10n ** 400n + 1n, 10n ** 400n))).toBe(2 ** 53 + 2);
    expect(toNumber(fraction(-(big + 1n) * 10n ** 400n, 10n ** 400n + 1n))).toBe(-(2 ** 53));
    expect(toNumber(fraction(10n ** 400n, 3n * 10n ** 400n + 1n))).toBe(1 / 3);
  });

  test('agrees with the reading of the same decimal by the language', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: 0n, max: 10n ** 60n }), fc.nat(60), (scaled, places) => {
        const f = fraction(scaled, 10n ** BigInt(places));
        expect(toNumber(f)).toBe(Number(`${scaled}e-${places}`));
      }),
      { numRuns: 1000 },
    );
  });

  test('leaves the range of doubles at both ends', () => {
    expect(toNumber(fraction(10n ** 400n))).toBe(Infinity);
    expect(toNumber(fraction(-(10n ** 400n)))).toBe(-Infinity);
    expect(toNumber(fraction(1n, 10n ** 400n))).toBe(0);
    expect(toNumber(fraction(1n, 10n ** 307n))).toBe(1e-307);
    expect(toNumber(fraction(10n ** 308n))).toBe(1e308);
  });
});
