import { beforeAll, describe, expect, test } from 'vitest';
import type { Scope } from '@core/model/scope.js';
import { knownOf } from '@core/positions/context.js';
import { costsFrom, stepsFrom } from '@core/positions/distances.js';
import { graphOf } from '@core/positions/graph.js';
import { findIn, scopeOfNote } from '../support/finding.js';
import { type Puzzle, puzzleFrom, puzzleNote } from '../support/puzzle.js';

// Positions of the 8-puzzle by their distance from one with the gap in a corner: OEIS A089473
// (Reinefeld, "Complete Solution of the Eight-Puzzle and the Benefit of Node Ordering in IDA*",
// IJCAI 1993, 248). 181440 positions, 31 moves at most, mean 21.972399.
const HISTOGRAM = [
  1, 2, 4, 8, 16, 20, 39, 62, 116, 152, 286, 396, 748, 1024, 1893, 2512, 4485, 5638, 9529, 10878,
  16993, 17110, 23952, 20224, 24047, 15578, 14560, 6274, 3910, 760, 221, 2,
];
/** The two farthest positions, written for a goal of 12345678 and the gap last. */
const FARTHEST = ['647850321', '867254301'];

describe('the 8-puzzle as a log', () => {
  let puzzle: Puzzle;
  let scope: Scope;
  beforeAll(() => {
    puzzle = puzzleFrom('123456780');
    scope = scopeOfNote(puzzleNote(puzzle));
  });

  test('has as many rows as there are moves', () => {
    const { log } = knownOf(scope);
    expect(log.names).toHaveLength(181_440);
    expect(log.rowCount).toBe(483_840);
  });

  test('has the published distances', () => {
    const { log } = knownOf(scope);
    const graph = graphOf(log);
    const steps = stepsFrom(graph, log.spot('p0'));
    const histogram = new Array<number>(32).fill(0);
    for (const each of steps) histogram[each] = (histogram[each] ?? 0) + 1;
    expect(histogram).toEqual(HISTOGRAM);
    const mean = steps.reduce((sum, each) => sum + each, 0) / steps.length;
    expect(mean).toBeCloseTo(21.972399, 6);
    const far = [...steps.keys()].filter((spot) => steps[spot] === 31);
    const boards = far.map((spot) => puzzle.boards[Number(log.name(spot).slice(1))]);
    expect(boards.sort()).toEqual(FARTHEST);
    // The same by weights: each row one press of one tick.
    const costs = costsFrom(graph, log.spot('p0'), new Float64Array(graph.to.length).fill(1));
    expect(costs.every((cost, spot) => cost === steps[spot])).toBe(true);
  });

  test('is solved in 31 moves from the farthest, and in no fewer', () => {
    const start = puzzle.boards.indexOf(FARTHEST[0] ?? '');
    const found = findIn(scope, { from: [`p${start}`], to: 'p0', best: 3 });
    expect(found.exhausted).toBe(true);
    const plans = found.groups[0]?.plans ?? [];
    expect(plans).toHaveLength(3);
    for (const plan of plans) {
      expect(plan.presses).toBe(31);
      expect(plan.ticks).toBe(31 + 30 * 4);
    }
    expect(new Set(plans.map(({ sequence }) => sequence)).size).toBe(3);
  });
});
