import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fraction } from '@core/text/fraction.js';
import { label, labeller, tickOf, timecodeOf } from '@core/timeline/timecode.js';

const drop30 = fraction(30_000, 1001);
const drop60 = fraction(60_000, 1001);
const labelled = [
  fraction(24_000, 1001),
  fraction(24),
  fraction(25),
  drop30,
  fraction(30),
  fraction(50),
  drop60,
  fraction(60),
];
const clocks = fc.constantFrom(...labelled);
const MAX = Number.MAX_SAFE_INTEGER;

function reason(result: object): string {
  expect(result).toHaveProperty('reason');
  return 'reason' in result ? String(result.reason) : '';
}

describe('the label of a tick', () => {
  test.each([
    [0, fraction(25), '00:00:00:00'],
    [24, fraction(25), '00:00:00:24'],
    [25, fraction(25), '00:00:01:00'],
    [1800, fraction(30), '00:01:00:00'],
    [24 * 3600 - 1, fraction(24_000, 1001), '00:59:59:23'],
    [24 * 3600, fraction(24_000, 1001), '01:00:00:00'],
    [86_400 * 50 - 1, fraction(50), '23:59:59:49'],
    [86_400 * 50, fraction(50), '00:00:00:00'],
    [86_400 * 60 * 3 + 61, fraction(60), '00:00:01:01'],
  ])('%d at %o is %s', (tick, clock, text) => {
    expect(label(tick, clock)).toBe(text);
  });

  test('comes back as its tick of the day', () => {
    fc.assert(
      fc.property(clocks, fc.maxSafeNat(), (clock, tick) => {
        const timecode = timecodeOf(clock);
        if ('reason' in timecode) throw new Error(timecode.reason);
        const ofDay = Number(BigInt(tick) % BigInt(timecode.ticksPerDay));
        expect(tickOf(label(tick, clock), clock)).toEqual({ tick: ofDay });
        expect(label(ofDay, clock)).toBe(label(tick, clock));
      }),
      { numRuns: 2000 },
    );
  });

  test('is the same from one writer used in any order', () => {
    const near = fc.tuple(fc.nat(200), fc.integer({ min: -70, max: 70 }));
    fc.assert(
      fc.property(clocks, fc.array(near, { maxLength: 40 }), (clock, order) => {
        const write = labeller(clock);
        for (const [minute, off] of order) {
          const tick = Math.max(0, minute * 1798 + off);
          expect(write(tick)).toBe(label(tick, clock));
        }
      }),
    );
  });

  test.each(labelled)('is right when ticks are read backwards at %o', (clock) => {
    const write = labeller(clock);
    const differ: string[] = [];
    for (let tick = 40_000; tick >= 0 && differ.length < 5; tick--) {
      const text = write(tick);
      const back = tickOf(text, clock);
      if (!('tick' in back) || back.tick !== tick) differ.push(`${tick}: ${text}`);
      // A writer that remembers nothing yet has to find each second from its every tick.
      if (label(tick, clock) !== text) differ.push(`${tick}: ${text} only when read backwards`);
    }
    expect(differ).toEqual([]);
  });

  test('rises with the ticks of a day', () => {
    fc.assert(
      fc.property(clocks, fc.nat(2_000_000), fc.nat(5000), (clock, tick, more) => {
        fc.pre(more > 0);
        expect(label(tick, clock) < label(tick + more, clock)).toBe(true);
      }),
    );
  });

  test.each([-1, 0.5, 1.5, Number.NaN, Infinity, 2 ** 53])('is refused for %s', (tick) => {
    const write = labeller(drop30);
    expect(write(1)).toBe('00:00:00;01');
    expect(() => write(tick)).toThrow(RangeError);
    expect(() => label(tick, drop30)).toThrow(RangeError);
  });

  test('exists up to the last exact tick', () => {
    expect(tickOf(label(MAX, drop60), drop60)).toEqual({ tick: MAX % 5_178_816 });
  });
});

describe('a clock without timecode', () => {
  test.each([
    [fraction(37), 'a clock of 37 ticks a second'],
    [fraction(120), '120'],
    [fraction(48), '48'],
    [fraction(1), '1'],
    [fraction(2997, 100), '2997/100'],
    [fraction(48_000, 1001), '48000/1001'],
    [fraction(120_000, 1001), '120000/1001'],
    [fraction(59_999, 1001), '59999/1001'],
    [fraction(-30), '-30'],
    [fraction(0), '0'],
    [fraction(10n ** 30n), '1000000'],
  ])('%o is told with the clocks that have one', (clock, named) => {
    const why = reason(timecodeOf(clock));
    expect(why).toContain(named);
    expect(why).toContain('24000/1001, 24, 25, 30000/1001, 30, 50, 60000/1001 and 60');
    expect(() => label(0, clock)).toThrow(why);
    expect(() => labeller(clock)).toThrow(RangeError);
    expect(tickOf('00:00:00:00', clock)).toEqual({ reason: why });
  });
});

describe('a text that is no label', () => {
  test.each([
    ['', 'hh:mm:ss;ff'],
    ['1:02:03;04', 'hh:mm:ss;ff'],
    ['00:00:00', 'hh:mm:ss;ff'],
    ['00:00:00;0', 'hh:mm:ss;ff'],
    ['00:00:00;000', 'hh:mm:ss;ff'],
    ['00:00:00.00', 'hh:mm:ss;ff'],
    ['00;00;00;00', 'hh:mm:ss;ff'],
    [' 00:00:00;00', 'hh:mm:ss;ff'],
    ['00:00:00;00\n', 'hh:mm:ss;ff'],
    ['-0:00:00;00', 'hh:mm:ss;ff'],
    ['٠٠:٠٠:٠٠;٠٠', 'hh:mm:ss;ff'],
    ['24:00:00;00', 'hours end at 23'],
    ['99:00:00;00', 'hours end at 23'],
    ['00:60:00;00', 'minutes end at 59'],
    ['00:00:60;00', 'seconds end at 59'],
    ['00:00:00;30', 'frames end at 29'],
    ['00:00:00:00', 'has ";" before the frames'],
    ['00:01:00;00', 'starts with 00:01:00;02'],
    ['00:01:00;01', 'starts with 00:01:00;02'],
    ['23:59:00;01', 'starts with 23:59:00;02'],
  ])('%j is refused at 30000/1001', (text, why) => {
    expect(reason(tickOf(text, drop30))).toContain(why);
  });

  test('a separator of labels that drop does not fit a clock that drops none', () => {
    expect(reason(tickOf('00:00:00;00', fraction(30)))).toContain('has ":" before the frames');
    expect(reason(tickOf('00:00:00;00', fraction(24_000, 1001)))).toContain('24000/1001');
    expect(tickOf('00:01:00:00', fraction(30))).toEqual({ tick: 1800 });
  });

  test('is quoted only in part where it is long', () => {
    expect(reason(tickOf('9'.repeat(5_000_000), drop30)).length).toBeLessThan(120);
  });

  test('is every text that no tick bears', () => {
    const two = fc.nat(69).map((n) => String(n).padStart(2, '0'));
    const texts = fc
      .tuple(two, two, two, fc.constantFrom(':', ';', '.'), two)
      .map(([h, m, s, mark, f]) => `${h}:${m}:${s}${mark}${f}`);
    fc.assert(
      fc.property(clocks, texts, (clock, text) => {
        const result = tickOf(text, clock);
        if ('tick' in result) expect(label(result.tick, clock)).toBe(text);
        else expect(result.reason).not.toBe('');
      }),
      { numRuns: 2000 },
    );
  });
});
