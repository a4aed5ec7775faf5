import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { itemsText, logText, type PlainItem, PlainFollower } from '../support/plain-follow.js';
import { journeys } from '../support/plain-logs.js';
import { endOf, traceOf } from './note.js';

/** A thousand thousand millions, and what lies around it. */
const GREAT = 1_000_000_000_000;
const WINDOW = 20;

describe('a repeat of any count', () => {
  const cases = journeys({ times: 3, spread: true }).map(({ log, from, items }) => ({
    log,
    from,
    item: {
      kind: 'group',
      items: items.slice(0, 3).filter((each) => each.kind !== 'until' && !(each.kind === 'claim' && each.item.kind === 'until')),
    } as const,
  })).filter(({ item }) => item.items.length > 0); // prettier-ignore
  const times = (item: PlainItem, n: number): PlainItem => ({ kind: 'repeat', item, times: n });

  test('is where a stepper is after as many beyond the tail, less whole cycles', () => {
    let many = 0;
    fc.assert(
      fc.property(cases, fc.integer({ min: 0, max: 999 }), ({ log, from, item }, less) => {
        const plain = new PlainFollower(log);
        const at = (n: number): string => plain.trace([times(item, n)], from).end.join(' ');
        // The sets' own cycle, by the plain way: a window of ends that repeats. With so few spots
        // every tail is over in front of the window.
        const ends = new Map<number, string>();
        for (let n = WINDOW; n < 3 * WINDOW; n++) ends.set(n, at(n));
        const cycle = cycleOf(ends);
        if (cycle === undefined) return;
        many++;
        const n = GREAT - less;
        const equivalent = WINDOW + ((n - WINDOW) % cycle);
        const route = `from ${from.map((each) => `@${each}`).join(' ')}`;
        const text = logText(log, `${route} { ${itemsText([times(item, n)])} }`);
        expect(endOf(text).join(' '), text).toBe(ends.get(equivalent));
      }),
      { numRuns: 80 },
    );
    expect(many).toBeGreaterThan(60);
  });

  test('is the same for a whole cycle more, beyond the tail', () => {
    fc.assert(
      fc.property(cases, fc.integer({ min: 100, max: GREAT }), ({ log, from, item }, n) => {
        const route = `from ${from.map((each) => `@${each}`).join(' ')}`;
        const end = (count: number): string[] =>
          endOf(logText(log, `${route} { ${itemsText([times(item, count)])} }`));
        // At most 8 spots with rows of at most 4 items: a way round takes at most 32 items, and
        // so many times of the body at the most. lcm(1 .. 32) is a whole number of every cycle;
        // sets come round with the cycles of their members.
        expect(end(n)).toEqual(end(n + 144_403_552_893_600));
      }),
      { numRuns: 400 },
    );
  });
});

/** The least cycle that a window's first half repeats in its second. */
function cycleOf(ends: ReadonlyMap<number, string>): number | undefined {
  for (let cycle = 1; cycle <= WINDOW; cycle++) {
    let same = true;
    for (let n = WINDOW; n < 2 * WINDOW && same; n++) same = ends.get(n) === ends.get(n + cycle);
    if (same) return cycle;
  }
  return undefined;
}

describe('short texts that stand for more than anybody could walk', () => {
  const game =
    'game "Tin Pier" { clock 60 settle 5 inputs { U = y -1 D = y +1 } pause P { open 2 dwell 4 resume 2 } }\n';
  const ring = 'seen { @a : U -> @b  @b : U -> @c  @c : U -> @a  @a : D -> @a  @b : D -> @c  @c : D -> @b }\n'; // prettier-ignore
  const power = (base: number, exponent: number, of: number): number => {
    let result = 1;
    for (let i = 0; i < exponent; i++) result = (result * base) % of;
    return result;
  };

  test('repeats in repeats, sixty deep', () => {
    let items = 'U';
    for (let i = 0; i < 60; i++) items = `(${items})*1000`;
    // 1000^60 taps round a ring of three: 1000 is 1 more than 9 * 111.
    expect(power(1000, 60, 3)).toBe(1);
    expect(endOf(`${game}${ring}route r from @a { ${items} }`)).toEqual(['b']);
  });

  test('phrases that double, sixty deep', () => {
    const lets = ['let p0 = U'];
    for (let i = 1; i < 60; i++) lets.push(`let p${i} = p${i - 1} p${i - 1}`);
    const trace = traceOf(`${game}${ring}${lets.join('\n')}\nroute r from @a { p59 p58 U }`);
    expect(power(2, 59, 3)).toBe(2);
    expect(power(2, 58, 3)).toBe(1);
    expect(trace.steps.map(({ spots }) => spots.join())).toEqual(['c', 'a', 'b']);
  });

  test('holds that double, sixty deep, are lost and found again by a claim', () => {
    const lets = ['let p0 = (pace .1 U U)'];
    for (let i = 1; i < 60; i++) lets.push(`let p${i} = D&(pace .1 p${i - 1} U p${i - 1})`);
    const trace = traceOf(`${game}${ring}${lets.join('\n')}\nroute r from @a { p59 p59 @a U }`);
    expect(trace.steps.map(({ spots, unknown }) => (unknown ? '?' : spots.join()))).toEqual(['?', '?', 'b']); // prettier-ignore
  });

  test('repeats of nothing', () => {
    let items = '.0';
    for (let i = 0; i < 60; i++) items = `(${items})*999999999`;
    expect(endOf(`${game}${ring}route r from @a { ${items} U }`)).toEqual(['b']);
    expect(endOf(`${game}${ring}route r from @a { (.0)*9+ until @a U }`)).toEqual(['b']);
  });

  test('a long chain from every spot of it', () => {
    const n = 100_000;
    const rows = Array.from(
      { length: n },
      (_, i) => `@s${i} : U -> @s${Math.min(i + 1, n - 1)} x2`,
    );
    const text = `${game}seen {\n${rows.join('\n')}\n}\nroute r from anywhere to @s${n - 1} { U*1+ until @s${n - 1} }\nroute s from anywhere { U*${GREAT} }\n`;
    const [until] = traceOf(text, 'r').steps;
    expect(until?.until?.arrived).toHaveLength(n - 1);
    expect(until?.settles).toMatchObject({ cycles: [[`s${n - 1}`]], after: n - 1, lost: [] });
    expect(traceOf(text, 's').steps.map(({ spots }) => spots)).toEqual([[`s${n - 1}`]]);
  });
});
