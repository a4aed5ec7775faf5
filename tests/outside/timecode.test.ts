import { createRequire } from 'node:module';
import { describe, expect, test } from 'vitest';
import { compare, fraction, sub, toDecimal } from '@core/text/fraction.js';
import { framesToSeconds } from '@core/timeline/clock.js';
import { label, labeller, tickOf, timecodeOf } from '@core/timeline/timecode.js';

/** The part of the smpte-timecode package (1.3, MIT) that is used here; it ships no types. */
interface Reference {
  readonly frameCount: number;
  toString(): string;
}
type ReferenceOf = (
  frames: number | string,
  rate: readonly [number, number],
  dropFrame: boolean,
) => Reference;
const reference = createRequire(import.meta.url)('smpte-timecode') as ReferenceOf;

const rates = [
  { rate: [30_000, 1001], perDay: 2_589_408 },
  { rate: [60_000, 1001], perDay: 5_178_816 },
] as const;

/** The rates that drop nothing; the package gives 24000/1001 a base of 24 as well. */
const plain = [
  { rate: [24_000, 1001], perDay: 2_073_600 },
  { rate: [24, 1], perDay: 2_073_600 },
  { rate: [25, 1], perDay: 2_160_000 },
  { rate: [30, 1], perDay: 2_592_000 },
  { rate: [50, 1], perDay: 4_320_000 },
  { rate: [60, 1], perDay: 5_184_000 },
] as const;

// A day has millions of ticks: differences are gathered, and one expectation is made of them.
const FEW = 5;
const PATIENCE = 600_000;

describe.each(rates)('drop-frame labels at $rate against smpte-timecode', ({ rate, perDay }) => {
  const clock = fraction(rate[0], rate[1]);

  test(
    'every tick of a day has its label, and the label its tick',
    () => {
      const write = labeller(clock);
      const differ: string[] = [];
      for (let tick = 0; tick < perDay && differ.length < FEW; tick++) {
        const ours = write(tick);
        const theirs = reference(tick, rate, true).toString();
        if (ours !== theirs) differ.push(`${tick}: ${ours}, not ${theirs}`);
        const back = tickOf(ours, clock);
        if (!('tick' in back) || back.tick !== tick) differ.push(`${ours} is not ${tick} again`);
      }
      expect(differ).toEqual([]);
      expect(write(perDay)).toBe(write(0));
    },
    PATIENCE,
  );

  test(
    'a label is refused just where the package throws: every label in the first second of a minute',
    () => {
      const differ: string[] = [];
      let refused = 0;
      const base = Math.ceil(rate[0] / rate[1]);
      for (let minute = 0; minute < 1440; minute++) {
        for (let frames = 0; frames <= base && differ.length < FEW; frames++) {
          const hh = two(Math.floor(minute / 60));
          const text = `${hh}:${two(minute % 60)}:00;${two(frames)}`;
          const ours = tickOf(text, clock);
          const theirs = frameCount(text, rate);
          if ('tick' in ours ? ours.tick !== theirs : theirs !== undefined) {
            differ.push(`${text}: ${JSON.stringify(ours)}, not ${theirs}`);
          }
          if (theirs === undefined) refused++;
        }
      }
      expect(differ).toEqual([]);
      // 54 minutes of an hour drop, and `base` itself is refused in each minute.
      expect(refused).toBe(24 * 54 * (base === 30 ? 2 : 4) + 1440);
    },
    PATIENCE,
  );
});

test.each(plain)('labels at $rate against smpte-timecode, across a day', ({ rate, perDay }) => {
  const clock = fraction(rate[0], rate[1]);
  expect(timecodeOf(clock)).toMatchObject({ ticksPerDay: perDay, separator: ':' });
  const differ: string[] = [];
  // A step that shares no factor with a second, a minute or an hour meets every kind of label.
  for (let tick = 0; tick < perDay && differ.length < FEW; tick += 37) {
    const theirs = reference(tick, rate, false).toString();
    if (label(tick, clock) !== theirs) differ.push(`${tick}: not ${theirs}`);
  }
  expect(differ).toEqual([]);
  expect(label(perDay - 1, clock)).toBe(reference(perDay - 1, rate, false).toString());
  expect(label(perDay, clock)).toBe('00:00:00:00');
});

/**
 * SMPTE ST 12-1 (Time and Control Code; formerly ANSI/SMPTE 12M-1995), from memory: the first two
 * labels of each minute but every tenth are dropped, 108 an hour; four at twice the rate.
 */
describe('the numbers of drop-frame, by SMPTE ST 12-1 (from memory)', () => {
  const a = fraction(30_000, 1001);
  const b = fraction(60_000, 1001);

  test.each([
    [a, 1799, '00:00:59;29', '00:01:00;02'],
    [a, 3597, '00:01:59;29', '00:02:00;02'],
    [a, 17_981, '00:09:59;29', '00:10:00;00'],
    [a, 19_781, '00:10:59;29', '00:11:00;02'],
    [a, 107_891, '00:59:59;29', '01:00:00;00'],
    [a, 2_589_407, '23:59:59;29', '00:00:00;00'],
    [b, 3599, '00:00:59;59', '00:01:00;04'],
    [b, 7195, '00:01:59;59', '00:02:00;04'],
    [b, 35_963, '00:09:59;59', '00:10:00;00'],
    [b, 39_563, '00:10:59;59', '00:11:00;04'],
    [b, 215_783, '00:59:59;59', '01:00:00;00'],
    [b, 5_178_815, '23:59:59;59', '00:00:00;00'],
  ])('at %o, tick %d is %s and the next %s', (clock, tick, here, next) => {
    expect(label(tick, clock)).toBe(here);
    expect(label(tick + 1, clock)).toBe(next);
  });

  test.each([
    [a, '00:01:00;00'],
    [a, '00:01:00;01'],
    [b, '00:01:00;00'],
    [b, '00:01:00;01'],
    [b, '00:01:00;02'],
    [b, '00:01:00;03'],
  ])('at %o there is no %s', (clock, text) => {
    expect(tickOf(text, clock)).toHaveProperty('reason');
  });

  test.each([
    [a, 1798, 17_982, 107_892, 2_589_408],
    [b, 3596, 35_964, 215_784, 5_178_816],
  ])('at %o a minute, ten, an hour and a day have their ticks', (clock, minute, ten, hour, day) => {
    const at = (text: string) => {
      const result = tickOf(text, clock);
      return 'tick' in result ? result.tick : NaN;
    };
    const first = clock === a ? '02' : '04';
    expect(at(`00:02:00;${first}`) - at(`00:01:00;${first}`)).toBe(minute);
    expect(at('00:10:00;00')).toBe(ten);
    expect(at('01:00:00;00')).toBe(hour);
    expect(timecodeOf(clock)).toMatchObject({ ticksPerDay: day, separator: ';' });
    expect(framesToSeconds(ten, clock)).toEqual(fraction(2_999_997, 5000));
    expect(framesToSeconds(day, clock)).toEqual(fraction(53_999_946, 625));
    expect(sub(framesToSeconds(day, clock), fraction(86_400))).toEqual(fraction(-54, 625));
  });

  test('an hour of labels that drop none is 3.6 s too long at 30000/1001', () => {
    expect(framesToSeconds(108_000, a)).toEqual(fraction(18_018, 5));
  });

  test('labels stay within 61 ms of the real time over ten minutes', () => {
    const write = labeller(a);
    let most = { by: fraction(0), tick: 0 };
    let least = most;
    for (let tick = 0; tick < 17_982; tick++) {
      const [h = 0, m = 0, s = 0, f = 0] = write(tick).split(/[:;]/).map(Number);
      // What the label says, read as thirtieths of a second.
      const said = fraction(30 * (3600 * h + 60 * m + s) + f, 30);
      const by = sub(said, framesToSeconds(tick, a));
      if (compare(by, most.by) === 1) most = { by, tick };
      if (compare(by, least.by) === -1) least = { by, tick };
    }
    expect([most.tick, toDecimal(most.by, 9)]).toEqual([16_184, '0.060533333']);
    expect([least.tick, toDecimal(least.by, 9)]).toEqual([1799, '-0.059966667']);
  });
});

function two(n: number): string {
  return String(n).padStart(2, '0');
}

function frameCount(text: string, rate: readonly [number, number]): number | undefined {
  try {
    return reference(text, rate, true).frameCount;
  } catch {
    return undefined;
  }
}
