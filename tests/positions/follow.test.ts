import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { itemsText, logText, PlainFollower } from '../support/plain-follow.js';
import { journeys } from '../support/plain-logs.js';
import { endOf, traceOf } from './note.js';

const startsText = (from: readonly string[]): string => from.map((each) => `@${each}`).join(' ');

describe('random routes over random logs', () => {
  for (const spread of [false, true]) {
    const kind = spread ? 'several landings' : 'one landing';
    test(`are where a stepper says, item by item, with ${kind} a row`, () => {
      let proved = 0;
      fc.assert(
        fc.property(journeys({ times: 60, spread }), ({ log, from, items }) => {
          const text = logText(log, `from ${startsText(from)} { ${itemsText(items)} }`);
          const plain = new PlainFollower(log).trace(items, from);
          const trace = traceOf(text);
          const steps = trace.steps.map(({ spots, unknown, within }) => ({
            spots,
            unknown,
            within,
          }));
          expect(steps, text).toEqual(plain.steps);
          expect(endOf(text), text).toEqual(plain.end);
          proved += steps.filter((step) => step.spots.length > 0 && !step.unknown).length;
          const untils = trace.steps.flatMap(({ until }) => (until === undefined ? [] : [until]));
          const arrived = untils.map((until) => [...until.arrived].sort(byFrom));
          expect(arrived, text).toEqual(plain.untils.map((until) => until.arrived));
          if (spread) return;
          const caught = untils.map((until) =>
            [...new Set(until.never.flatMap((each) => each.from))].sort(),
          );
          expect(caught, text).toEqual(plain.untils.map((until) => [...new Set(until.caught)]));
        }),
        { numRuns: 3000 },
      );
      // The routes are not all lost at once.
      expect(proved).toBeGreaterThan(2000);
    });
  }

  test('go where the most sighted landing of each row leads, where only that is asked for', () => {
    fc.assert(
      fc.property(journeys({ times: 30, spread: true }), ({ log, from, items }) => {
        const text = logText(log, `from ${startsText(from)} { ${itemsText(items)} }`);
        const plain = new PlainFollower(log, true).trace(items, from);
        expect(endOf(text, { likely: true }), text).toEqual(plain.end);
      }),
      { numRuns: 1500 },
    );
  });
});

function byFrom(a: { from: string; times: number }, b: { from: string; times: number }): number {
  return a.from < b.from ? -1 : a.from > b.from ? 1 : a.times - b.times;
}
