/**
 * An exact fraction in lowest terms, its sign in `num` and `den` above zero: two fractions are
 * equal where both parts are. Make one with `fraction`, not by hand.
 */
export interface Fraction {
  readonly num: bigint;
  readonly den: bigint;
}

/** Digits of a written number; more is no number that a note means, and work on it grows. */
const MOST_DIGITS = 300;

/** `n / d`. Throws a RangeError where `d` is 0 or a number is not a safe whole number. */
export function fraction(n: number | bigint, d: number | bigint = 1): Fraction {
  const num = whole(n);
  const den = whole(d);
  if (den === 0n) throw new RangeError(`a fraction cannot have 0 below the line: ${num}/0`);
  const by = greatestCommonDivisor(num, den);
  const sign = den < 0n ? -by : by;
  return { num: num / sign, den: den / sign };
}

/**
 * `'0.25'`, `'-0.5'`, `'+1'`, `'30000'` as the exact fraction that is written. Undefined where the
 * text is anything else (no digit before or after the point, an exponent, a unit, white space) or
 * has more than 300 digits.
 */
export function parseDecimal(text: string): Fraction | undefined {
  // The length first: even matching a megabyte is work that nobody asked for.
  if (text.length > MOST_DIGITS + 2) return undefined;
  const match = /^([+-]?)([0-9]+)(?:\.([0-9]+))?$/.exec(text);
  if (match === null) return undefined;
  const [, sign = '', integer = '', decimals = ''] = match;
  if (integer.length + decimals.length > MOST_DIGITS) return undefined;
  const digits = BigInt(integer + decimals);
  return fraction(sign === '-' ? -digits : digits, 10n ** BigInt(decimals.length));
}

export function add(a: Fraction, b: Fraction): Fraction {
  return fraction(a.num * b.den + b.num * a.den, a.den * b.den);
}

export function sub(a: Fraction, b: Fraction): Fraction {
  return fraction(a.num * b.den - b.num * a.den, a.den * b.den);
}

export function mul(a: Fraction, b: Fraction): Fraction {
  return fraction(a.num * b.num, a.den * b.den);
}

/** `a / b`. Throws a RangeError where `b` is 0. */
export function div(a: Fraction, b: Fraction): Fraction {
  return fraction(a.num * b.den, a.den * b.num);
}

/** -1, 0 or 1 as `a` is less than, equal to or more than `b`. */
export function compare(a: Fraction, b: Fraction): -1 | 0 | 1 {
  const left = a.num * b.den;
  const right = b.num * a.den;
  return left < right ? -1 : left > right ? 1 : 0;
}

export function equals(a: Fraction, b: Fraction): boolean {
  return a.num === b.num && a.den === b.den;
}

/** The greatest whole number that is not above `f`. */
export function floor(f: Fraction): bigint {
  const towardsZero = f.num / f.den;
  return f.num < 0n && towardsZero * f.den !== f.num ? towardsZero - 1n : towardsZero;
}

/**
 * `f` with exactly `places` decimals, a half rounded away from zero; what rounds to zero carries no
 * sign. Throws a RangeError where `places` is not a whole number from 0 to 300.
 */
export function toDecimal(f: Fraction, places: number): string {
  checkPlaces(places);
  const size = f.num < 0n ? -f.num : f.num;
  const scaled = (2n * size * 10n ** BigInt(places) + f.den) / (2n * f.den);
  const sign = f.num < 0n && scaled !== 0n ? '-' : '';
  const digits = scaled.toString().padStart(places + 1, '0');
  if (places === 0) return sign + digits;
  return `${sign}${digits.slice(0, -places)}.${digits.slice(-places)}`;
}

/** The nearest double (a tie to the even one), whatever the size of the parts; infinite beyond range. */
export function toNumber(f: Fraction): number {
  const num = Number(f.num);
  const den = Number(f.den);
  // One division of exact parts rounds once, so it is right already.
  if (Number.isSafeInteger(num) && Number.isSafeInteger(den)) return num / den;
  const size = f.num < 0n ? -f.num : f.num;
  // A quotient of 64 bits or more, its lowest bit telling of a rest, rounds like the whole of it.
  const shift = 68 + bits(f.den) - bits(size);
  const over = shift > 0 ? size << BigInt(shift) : size;
  const under = shift > 0 ? f.den : f.den << BigInt(-shift);
  const quotient = over / under;
  const nearest = Number(quotient * under === over ? quotient : quotient | 1n);
  // In two steps: 2 ** -shift alone may be below the smallest double where the product is not.
  const half = Math.trunc(-shift / 2);
  const value = nearest * 2 ** half * 2 ** (-shift - half);
  return f.num < 0n ? -value : value;
}

/** Throws a RangeError where `places` is no number of decimals that `toDecimal` prints. */
export function checkPlaces(places: number): void {
  if (!Number.isInteger(places) || places < 0 || places > MOST_DIGITS) {
    throw new RangeError(`decimals are a whole number from 0 to ${MOST_DIGITS}, not ${places}`);
  }
}

function whole(n: number | bigint): bigint {
  if (typeof n === 'bigint') return n;
  if (!Number.isSafeInteger(n)) throw new RangeError(`${n} is not a whole number held exactly`);
  return BigInt(n);
}

function greatestCommonDivisor(a: bigint, b: bigint): bigint {
  let [x, y] = [a < 0n ? -a : a, b < 0n ? -b : b];
  while (y !== 0n) [x, y] = [y, x % y];
  return x;
}

/** The number of bits of a whole number above zero, up to three too many. */
function bits(n: bigint): number {
  return n.toString(16).length * 4;
}
