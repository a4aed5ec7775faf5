import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { knownOf } from '@core/positions/context.js';
import { prove } from '@core/positions/plan.js';
import { routeText } from '@core/positions/route-text.js';
import { checkProgram } from '@core/rules/check.js';
import { programOf } from '@core/model/program.js';
import { findIn, scopeOfNote } from '../support/finding.js';
import { itemsText, logText } from '../support/plain-follow.js';
import { journeys } from '../support/plain-logs.js';

const SETTLE = 7;
const GAME = `game "Tin Pier" { clock 50 settle ${SETTLE} inputs { U = y -1 D = y +1 L = x -1 R = x +1 } }\n`;

interface Row {
  readonly from: number;
  readonly letter: string;
  readonly frames: number;
  readonly to: number;
  readonly count: number;
}

/** Logs of single presses, each of which leads to one spot. */
const plainLogs = fc.integer({ min: 2, max: 7 }).chain((spots) =>
  fc.record({
    spots: fc.constant(spots),
    rows: fc
      .array(
        fc.record({
          from: fc.nat(spots - 1),
          letter: fc.constantFrom('U', 'D', 'R'),
          frames: fc.constantFrom(1, 2, 5),
          to: fc.nat(spots - 1),
          count: fc.integer({ min: 1, max: 5 }),
        }),
        { minLength: 1, maxLength: 18 },
      )
      .map((rows) => {
        const seen = new Set<string>();
        return rows.filter(({ from, letter, frames }) => {
          const key = `${from} ${letter}${frames}`;
          return !seen.has(key) && seen.add(key);
        });
      }),
  }),
);

function seenText(rows: readonly Row[]): string {
  const lines = rows.map(
    ({ from, letter, frames, to, count }) =>
      `  @s${from} : ${letter}${frames} -> @s${to} x${count}\n`,
  );
  return `${GAME}seen {\n${lines.join('')}}\n`;
}

/** Every way without coming back, by walking all of them. */
function allWays(rows: readonly Row[], from: number, to: number): Row[][] {
  const found: Row[][] = [];
  const walk = (at: number, way: Row[], passed: ReadonlySet<number>): void => {
    for (const row of rows) {
      if (row.from !== at || passed.has(row.to)) continue;
      if (row.to === to) found.push([...way, row]);
      else walk(row.to, [...way, row], new Set([...passed, row.to]));
    }
  };
  walk(from, [], new Set([from]));
  return found;
}

const ticksOf = (way: readonly Row[]): number =>
  way.reduce((sum, { frames }) => sum + frames, 0) + SETTLE * (way.length - 1);
const least = (way: readonly Row[]): number => Math.min(...way.map(({ count }) => count));

describe('the K best against every way there is', () => {
  test.each([
    ['ticks', (way: readonly Row[]) => [ticksOf(way), way.length]],
    ['presses', (way: readonly Row[]) => [way.length, ticksOf(way)]],
    ['sightings', (way: readonly Row[]) => [-least(way), ticksOf(way)]],
  ] as const)('by %s', (by, worth) => {
    fc.assert(
      fc.property(
        plainLogs,
        fc.nat(6),
        fc.nat(6),
        fc.integer({ min: 1, max: 12 }),
        (log, a, b, best) => {
          const [from, to] = [a % log.spots, b % log.spots];
          fc.pre(from !== to);
          const scope = scopeOfNote(seenText(log.rows));
          const found = findIn(scope, { from: [`s${from}`], to: `s${to}`, by, best });
          const ways = allWays(log.rows, from, to)
            .map((way) => ({ way, worth: worth(way) }))
            .sort(
              (x, y) =>
                (x.worth[0] ?? 0) - (y.worth[0] ?? 0) || (x.worth[1] ?? 0) - (y.worth[1] ?? 0),
            );
          const plans = found.groups[0]?.plans ?? [];
          expect(found.exhausted).toBe(true);
          expect(
            plans.map((plan) => [plan.ticks, plan.presses, plan.sightings].join(' ')).sort(),
          ).toEqual(
            // Of ways that are worth the same any may be left out.
            pickLike(plans, ways.slice(0, best), ways).sort(),
          );
          expect(
            plans.map((plan) =>
              by === 'ticks'
                ? [plan.ticks, plan.presses]
                : by === 'presses'
                  ? [plan.presses, plan.ticks]
                  : [-plan.sightings, plan.ticks],
            ),
          ).toEqual(ways.slice(0, best).map((each) => [...each.worth]));
          expect(new Set(plans.map((plan) => plan.sequence)).size).toBe(plans.length);
        },
      ),
      { numRuns: 300 },
    );
  });
});

/** What the plans say of themselves has to be true of some way that is worth the same. */
function pickLike(
  plans: readonly { ticks: number; presses: number; sightings: number }[],
  best: readonly unknown[],
  ways: readonly { way: readonly Row[] }[],
): string[] {
  const real = ways.map(({ way }) => `${ticksOf(way)} ${way.length} ${least(way)}`);
  expect(plans).toHaveLength(best.length);
  return plans.map((plan) => {
    const said = `${plan.ticks} ${plan.presses} ${plan.sightings}`;
    const at = real.indexOf(said);
    expect(at, `a way of ${said}`).toBeGreaterThanOrEqual(0);
    real.splice(at, 1);
    return said;
  });
}

describe('several starts and several landings', () => {
  /** The fewest ticks that bring a set of spots to one, over all sets (no cues, no looking). */
  function leastForSets(rows: readonly Row[], from: readonly number[], to: number): number {
    const moves = new Set(rows.map(({ letter, frames }) => `${letter}${frames}`));
    const name = (set: ReadonlySet<number>): string => [...set].sort().join(' ');
    const cost = new Map<string, number>();
    let level: { set: Set<number>; ticks: number }[] = [{ set: new Set(from), ticks: -SETTLE }];
    while (level.length > 0) {
      level.sort((x, y) => x.ticks - y.ticks);
      const [next, ...rest] = level;
      level = rest;
      if (next === undefined) break;
      const key = name(next.set);
      if (cost.has(key)) continue;
      cost.set(key, next.ticks);
      if (key === String(to)) return next.ticks;
      for (const move of moves) {
        const set = new Set<number>();
        let lost = false;
        for (const spot of next.set) {
          const hits = rows.filter(
            (row) => row.from === spot && `${row.letter}${row.frames}` === move,
          );
          if (hits.length === 0) lost = true;
          for (const hit of hits) set.add(hit.to);
        }
        if (lost) continue;
        level.push({ set, ticks: next.ticks + SETTLE + Number(move.slice(1)) });
      }
    }
    return Infinity;
  }

  test('the best plan for a set, against a search over all sets', () => {
    const few = fc.integer({ min: 2, max: 5 }).chain((spots) =>
      fc.array(
        fc.record({
          from: fc.nat(spots - 1),
          letter: fc.constantFrom('U', 'D'),
          frames: fc.constantFrom(1, 2),
          to: fc.nat(spots - 1),
          count: fc.constant(2),
        }),
        { minLength: spots, maxLength: 4 * spots },
      ),
    );
    let solved = 0;
    fc.assert(
      fc.property(
        few,
        fc.uniqueArray(fc.nat(4), { minLength: 1, maxLength: 3 }),
        fc.nat(4),
        (rows, from, to) => {
          const known = new Set(rows.flatMap((row) => [row.from, row.to]));
          fc.pre(from.every((spot) => known.has(spot)) && known.has(to));
          fc.pre(!(from.length === 1 && from[0] === to));
          const scope = scopeOfNote(seenText(rows));
          const found = findIn(scope, {
            from: from.map((spot) => `s${spot}`),
            to: `s${to}`,
            best: 1,
          });
          const wanted = leastForSets(rows, from, to);
          const [plan] = found.groups[0]?.plans ?? [];
          expect(found.exhausted).toBe(true);
          if (wanted === Infinity) expect(plan === undefined || !plan.isSure).toBe(true);
          else {
            solved++;
            expect(plan?.isSure).toBe(true);
            expect(plan?.ticks).toBe(wanted);
          }
        },
      ),
      { numRuns: 500 },
    );
    expect(solved).toBeGreaterThan(50);
  });
});

describe('logs of the whole language', () => {
  test('every plan holds when it is read back, and the checker finds no error in it', () => {
    let plans = 0;
    fc.assert(
      fc.property(journeys({ times: 3, spread: true }), fc.nat(7), fc.nat(7), ({ log }, a, b) => {
        const text = logText(log, '{ U }').replace(/route pier[^]*/, '');
        const scope = scopeOfNote(text);
        const names = knownOf(scope).log.names;
        const [from = '', to = ''] = [names[a % names.length], names[b % names.length]];
        fc.pre(from !== to && from !== '');
        const found = findIn(scope, { from: [from], to, best: 4 });
        expect(found.dropped).toBe(0);
        for (const plan of found.groups.flatMap((group) => group.plans)) {
          plans++;
          if (plan.startsPaused || plan.endsPaused) continue;
          const route = routeText(plan, 'found', { taken: new Set(), anywhere: false });
          const { findings } = checkProgram(programOf(text + route));
          const isNew = ({ span }: { span: { start: number } }) => span.start >= text.length;
          // Random logs hold what no controller can do; a plan that repeats it is as bad.
          const inLog = new Set(findings.filter((each) => !isNew(each)).map(({ rule }) => rule));
          const errors = findings.filter(
            (each) => each.severity === 'error' && isNew(each) && !inLog.has(each.rule),
          );
          expect(errors.map(({ rule, params }) => [rule, route, params])).toEqual([]);
        }
      }),
      { numRuns: 400 },
    );
    expect(plans).toBeGreaterThan(100);
  });

  test('no chain of rows gets there in fewer ticks than the best plan', () => {
    let compared = 0;
    fc.assert(
      fc.property(journeys({ times: 3, spread: false }), fc.nat(7), fc.nat(7), ({ log }, a, b) => {
        // Without settle any gap will do, and a hold may bring a shorter one of its own.
        fc.pre(log.settle !== undefined);
        // Nor does it count to wait twice so that a longer row does not apply.
        const rows = log.rows.filter(({ items }) =>
          items.every(({ kind }) => kind !== 'wait' && kind !== 'settle'),
        );
        fc.pre(rows.length > 0);
        const running = { ...log, rows, paused: [], pace: '~' as const };
        const scope = scopeOfNote(logText(running, '{ U }').replace(/route pier[^]*/, ''));
        const known = knownOf(scope);
        const { names } = known.log;
        const [from = '', to = ''] = [names[a % names.length], names[b % names.length]];
        fc.pre(from !== to && from !== '');
        const bodies = [...new Set(running.rows.map(({ items }) => itemsText(items)))].slice(0, 5);
        const found = findIn(scope, { from: [from], to, best: 1 });
        const best = found.groups[0]?.plans[0]?.ticks ?? Infinity;
        let chains = bodies.map((body) => [body]);
        for (let length = 1; length <= 3; length++) {
          for (const chain of chains) {
            const proof = prove(chain.join(' '), [from], scope, known, {
              likely: false,
              startsPaused: false,
              endsPaused: false,
            });
            if (proof?.ends.length !== 1 || proof.ends[0] !== known.log.spot(to)) continue;
            compared++;
            expect(proof.ticks, chain.join(' ')).toBeGreaterThanOrEqual(best);
          }
          chains = chains.flatMap((chain) => bodies.map((body) => [...chain, body]));
        }
      }),
      { numRuns: 250 },
    );
    expect(compared).toBeGreaterThan(100);
  });
});
