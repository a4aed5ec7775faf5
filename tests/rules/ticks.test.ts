import fc from 'fast-check';
import { expect, test } from 'vitest';
import { DEFAULT_LIMITS } from '@core/rules/limits.js';
import type { Settings } from '@core/rules/settings.js';
import { expand, overlaps, type PlainTick } from '../support/plain-expansion.js';
import { notation } from '../support/plain-notation.js';
import { plainCases } from '../support/plain-sequences.js';
import { check, WITHOUT_POSITIONS } from './support.js';

/**
 * What a rule finds by walking steps, against what is to be seen in the ticks of the plain
 * expansion: the rule speaks exactly where the ticks show it.
 */
const AXES = [['U', 'D', 'W'], ['L', 'R']]; // prettier-ignore

function opposed({ held }: PlainTick): boolean {
  return AXES.some((axis) => axis.filter((letter) => held.has(letter)).length > 1);
}

/** How many inputs change on each tick on which one goes down. */
function changes(ticks: readonly PlainTick[]): number {
  const none: ReadonlySet<string> = new Set();
  return ticks.reduce((most, { held, pause }, t) => {
    const before = ticks[t - 1]?.held ?? none;
    const down = [...held].filter((letter) => !before.has(letter)).length;
    const up = [...before].filter((letter) => !held.has(letter)).length;
    return down === 0 ? most : Math.max(most, down + up + (pause ? 1 : 0));
  }, 0);
}

function compare(
  rule: string,
  shows: (ticks: PlainTick[], open: number) => boolean,
  settings: Settings,
) {
  const seen = { shown: 0, cases: 0 };
  fc.assert(
    fc.property(plainCases, ({ items, game }) => {
      const ticks = expand(items, game);
      fc.pre(ticks.length < 20_000);
      const shown = shows(ticks, game.pause.open);
      seen.cases++;
      if (shown) seen.shown++;
      const note = notation(items, game);
      // A range that fails at its high end is reported; the plain expansion takes the low one.
      fc.pre(!/\*[0-9]+\.\.|0\.\./.test(note));
      const found = check(note, settings).filter((finding) => finding.rule === rule);
      // A phrase by itself has another pace and nothing before it: what it lacks may not show.
      const said = shown ? found : found.filter(({ span }) => span.start > note.indexOf('route'));
      expect([note, said.length > 0]).toEqual([note, shown]);
    }),
    { numRuns: 1500 },
  );
  // Otherwise agreement would mean little.
  expect(seen.shown).toBeGreaterThan(20);
  expect(seen.cases - seen.shown).toBeGreaterThan(20);
}

test('pause-overlap speaks where two presses of pause meet', () => {
  compare('pause-overlap', overlaps, WITHOUT_POSITIONS);
});

test('opposed-directions speaks where an axis has two values on one tick', () => {
  compare('opposed-directions', (ticks) => ticks.some(opposed), WITHOUT_POSITIONS);
});

test.each([1, 2, 3])('pinch speaks where more than %i inputs change on one tick', (limit) => {
  const settings = { ...WITHOUT_POSITIONS, limits: { ...DEFAULT_LIMITS, changesPerTick: limit } };
  compare('pinch', (ticks) => changes(ticks) > limit, settings);
});
