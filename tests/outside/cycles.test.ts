import { describe, expect, test } from 'vitest';
import { scopeFor, routeOf, traceOf } from '../positions/note.js';
import { endOf } from '../positions/note.js';
import { knownOf } from '@core/positions/context.js';
import { settling } from '@core/positions/settling.js';
import { Resolver } from '@core/model/resolve.js';

/**
 * Worked cycles of published sequences, each written as a log: a spot for a value that is
 * visited, a tap for one application of the map. Where a line says "from memory", the figure
 * is that of the named source as remembered and computed again here by the plain walk.
 */
const GAME = 'game "Tin Pier" { clock 60 settle 5 inputs { U = y -1 } pause P { open 2 dwell 4 resume 2 } }\n'; // prettier-ignore

/** Values visited from `from` on, by a list of what was seen: the plain way. */
function visited(from: string, next: (value: string) => string): string[] {
  const seen = new Set<string>();
  for (let value = from; !seen.has(value); value = next(value)) seen.add(value);
  return [...seen];
}

interface Course {
  readonly tail: number;
  readonly cycle: readonly string[];
  readonly entry: string;
}

/** Tail and cycle that the log shows for a tap repeated from a value. */
function courseOf(from: string, next: (value: string) => string): Course {
  const values = visited(from, next);
  const rows = values.map((value) => `@v${value} : U -> @v${next(value)} x2`).join('\n');
  const text = `${GAME}seen {\n${rows}\n}\nspot @nowhere\nroute r from @v${from} { U*1+ until @nowhere }\n`;
  const [step] = traceOf(text).steps;
  const never = step?.until?.never[0];
  if (never === undefined) throw new Error('the log settles');
  const scope = scopeFor(text);
  const { declaration, unit } = routeOf(scope);
  const { log } = knownOf(scope);
  const [repeat] = new Resolver(scope).resolve(declaration.body, unit).steps;
  if (repeat?.kind !== 'repeat') throw new Error('the route is a repeat');
  const whole = settling(repeat, scope, [log.spot(`v${from}`)]);
  // One tap is the least an until takes, so its tail counts from the second value.
  expect(never.tail).toBe(Math.max(0, whole.after - 1));
  expect(never.cycle).toEqual(whole.cycles[0]);
  const plain = (name: string) => name.slice(1);
  // The entry, by the log: tail taps from the start, for which the follower counts its own way.
  const entry = whole.after === 0 ? from : plain(endOf(text.replace('U*1+ until @nowhere', `U*${whole.after}`))[0] ?? ''); // prettier-ignore
  return { tail: whole.after, cycle: (whole.cycles[0] ?? []).map(plain), entry };
}

const number = (map: (value: number) => number) => (value: string) => String(map(Number(value)));
const digits = (value: number): number[] => Array.from(String(value), Number);

describe('worked cycles', () => {
  // Rosetta Code, "Cycle detection": x^2+1 mod 255 from 3 has the cycle 101,2,5,26,167,95.
  test('x^2+1 mod 255 from 3', () => {
    const { tail, cycle, entry } = courseOf(
      '3',
      number((x) => (x * x + 1) % 255),
    );
    expect({ tail, entry }).toEqual({ tail: 2, entry: '101' });
    expect(cycle.map(Number)).toEqual([101, 2, 5, 26, 167, 95]);
  });

  // Cormen, Leiserson, Rivest, Stein, "Introduction to Algorithms", 31.9, figure 31.7 (the
  // sequence from memory): x^2-1 mod 1387 from 2, whose cycles mod 19 and 73 are those of factors.
  test.each([
    [1387, 5, 12, '1186'],
    [19, 2, 3, '8'],
    [73, 5, 4, '18'],
  ])('x^2-1 mod %i from 2', (of, tail, length, entry) => {
    const course = courseOf(
      '2',
      number((x) => (x * x + of - 1) % of),
    );
    expect({ ...course, cycle: course.cycle.length }).toEqual({ tail, cycle: length, entry });
  });

  // Floyd's figures for x^2+1 mod 8051 from 2 (Pollard, BIT 15 (1975) 331-334; from memory).
  test('x^2+1 mod 8051 from 2', () => {
    const course = courseOf(
      '2',
      number((x) => (x * x + 1) % 8051),
    );
    expect({ ...course, cycle: course.cycle.length }).toEqual({
      tail: 4,
      cycle: 15,
      entry: '7474',
    });
  });

  // Wikipedia, "Cycle detection", the table of the example (from memory).
  test('the table 6 6 0 1 4 3 3 4 0 from 2', () => {
    const table = [6, 6, 0, 1, 4, 3, 3, 4, 0];
    const { tail, cycle, entry } = courseOf(
      '2',
      number((x) => table[x] ?? 0),
    );
    expect({ tail, cycle: cycle.map(Number), entry }).toEqual({ tail: 2, cycle: [1, 6, 3], entry: '6' }); // prettier-ignore
  });

  // Knuth, TAOCP 2, 3.2.1, the linear congruential sequence with X0 = a = c = 7, m = 10.
  test('7x+7 mod 10 from 7', () => {
    const { tail, cycle } = courseOf(
      '7',
      number((x) => (7 * x + 7) % 10),
    );
    expect({ tail, cycle: [...cycle].sort() }).toEqual({ tail: 0, cycle: ['0', '6', '7', '9'] });
  });

  // Happy numbers: OEIS A007770 and the cycle of eight 4, 16, 37, 58, 89, 145, 42, 20 (from memory).
  test.each([
    [4, 0, 8, '4'],
    [7, 5, 1, '1'],
  ])('squares of digits from %i', (from, tail, length, entry) => {
    const map = number((x) => digits(x).reduce((sum, d) => sum + d * d, 0));
    const course = courseOf(String(from), map);
    expect({ ...course, cycle: course.cycle.length }).toEqual({ tail, cycle: length, entry });
  });

  // Collatz: 27 takes 111 steps to 1 (OEIS A006577), so 109 to the 4 of the cycle 4, 2, 1 (from memory).
  test.each([
    [27, 109],
    [7, 14],
  ])('halves or three times and one from %i', (from, tail) => {
    const course = courseOf(
      String(from),
      number((x) => (x % 2 === 0 ? x / 2 : 3 * x + 1)),
    );
    expect({ ...course, cycle: course.cycle.length }).toEqual({ tail, cycle: 3, entry: '4' });
  });

  // Kaprekar, Scripta Mathematica 21 (1955) 304: 6174, and 495 for three digits (from memory).
  test.each([
    [3524, 4, 3, '6174'],
    [100, 3, 6, '495'],
  ])('digits down less digits up from %i', (from, width, tail, entry) => {
    const map = (value: string): string => {
      const up = Array.from(value.padStart(width, '0')).sort();
      const difference = Number([...up].reverse().join('')) - Number(up.join(''));
      return String(difference).padStart(width, '0');
    };
    expect(courseOf(String(from), map)).toEqual({ tail, cycle: [entry], entry });
  });

  // Knuth, TAOCP 2, 3.1, the middle-square method: 6100, 2100, 4100, 8100 (from memory).
  test.each([
    ['6100', ['2100', '4100', '8100', '6100']],
    ['2500', ['2500']],
  ])('the middle of the square from %s', (from, cycle) => {
    const map = (value: string): string =>
      String(Number(value) ** 2)
        .padStart(8, '0')
        .slice(2, 6);
    expect(courseOf(from, map)).toEqual({ tail: 0, cycle, entry: from });
  });

  // Sociable and amicable numbers: Poulet's cycle of five from 12496 (1918), 220 and 284 (from memory).
  test.each([
    [12496, 0, 5],
    [220, 0, 2],
    [562, 1, 2],
  ])('sums of proper divisors from %i', (from, tail, length) => {
    const map = number((x) => {
      let sum = 0;
      for (let d = 1; d < x; d++) if (x % d === 0) sum += d;
      return sum;
    });
    const course = courseOf(String(from), map);
    expect([course.tail, course.cycle.length]).toEqual([tail, length]);
  });

  // Pisano periods, OEIS A001175 (from memory): pairs of neighbouring Fibonacci numbers.
  test.each([
    [2, 3],
    [3, 8],
    [5, 20],
    [7, 16],
    [10, 60],
    [12, 24],
    [60, 120],
    [100, 300],
    [1000, 1500],
  ])('Fibonacci numbers mod %i', (of, period) => {
    const map = (value: string): string => {
      const [a = 0, b = 0] = value.split('and').map(Number);
      return `${b}and${(a + b) % of}`;
    };
    const course = courseOf('0and1', map);
    expect([course.tail, course.cycle.length]).toEqual([0, period]);
  });

  // Hardy and Wright, "An Introduction to the Theory of Numbers", 9.2: the part in front of the
  // period is as long as the powers of 2 and 5 say, the period as the order of 10 (from memory).
  test.each([
    [7, 0, 6],
    [12, 2, 1],
    [13, 0, 6],
    [17, 0, 16],
    [19, 0, 18],
    [28, 2, 6],
    [97, 0, 96],
    [96, 5, 1],
    [101, 0, 4],
    [600, 3, 1],
  ])('remainders of 1 / %i', (of, tail, period) => {
    const course = courseOf(
      '1',
      number((x) => (10 * x) % of),
    );
    expect([course.tail, course.cycle.length]).toEqual([tail, period]);
  });
});

describe('Algorithm K', () => {
  /** Knuth, TAOCP 2, 3.1, Algorithm K ("Super-random" number generator), steps K1 to K13. */
  function algorithmK(x0: bigint): bigint {
    const E5 = 10n ** 5n;
    const E9 = 10n ** 9n;
    const E10 = 10n ** 10n;
    let x = x0;
    for (let y = x / E9; y >= 0n; y--) {
      // K3 goes to one of K3 to K12 by the second digit.
      const step = 3n + ((x / 10n ** 8n) % 10n);
      if (step <= 3n && x < 5n * E9) x += 5n * E9;
      if (step <= 4n) x = ((x * x) / E5) % E10;
      if (step <= 5n) x = (1001001001n * x) % E10;
      if (step <= 6n) x = x < 100000000n ? x + 9814055677n : E10 - x;
      if (step <= 7n) x = E5 * (x % E5) + x / E5;
      if (step <= 8n) x = (1001001001n * x) % E10;
      if (step <= 9n) x = BigInt(Array.from(String(x), (d) => (d === '0' ? '0' : String(Number(d) - 1))).join('')); // prettier-ignore
      if (step <= 10n) x = x < E5 ? x * x + 99999n : x - 99999n;
      if (step <= 11n) while (x < E9) x *= 10n;
      if (step <= 12n) x = ((x * (x - 1n)) / E5) % E10;
    }
    return x;
  }
  const map = (value: string): string => String(algorithmK(BigInt(value)));

  // Knuth, TAOCP 2, 3.1, table 1: the number that is transformed into itself.
  test('6065038420 stays where it is', () => {
    expect(courseOf('6065038420', map)).toEqual({ tail: 0, cycle: ['6065038420'], entry: '6065038420' }); // prettier-ignore
  });

  // Knuth, TAOCP 2, 3.1: "7401 values … period 3178". The tail is the difference.
  test('from 0, 7401 values with a period of 3178', () => {
    const { tail, cycle, entry } = courseOf('0', map);
    expect({ tail, period: cycle.length, entry }).toEqual({ tail: 4223, period: 3178, entry: '8931436698' }); // prettier-ignore
    expect(tail + cycle.length).toBe(7401);
  });

  // The same, computed by two other ways (a table of what was seen, and Brent's method).
  test.each([
    ['1', 1498, 3178, '6232094609'],
    ['1234567890', 2025, 943, '8750624706'],
    ['3141592653', 868, 1024, '1499354068'],
  ])('from %s', (from, tail, period, entry) => {
    const course = courseOf(from, map);
    expect({ ...course, cycle: course.cycle.length }).toEqual({ tail, cycle: period, entry });
  });
});
