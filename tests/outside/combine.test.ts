import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Combiner, type Impossible } from '@core/positions/combine.js';
import { leastByMilp, loadHighs } from '../support/milp.js';

type Vector = readonly number[];

/** Checks a certificate by hand: no trust in how it was found. */
function checkProof(why: Impossible, moves: readonly Vector[], offset: Vector): void {
  if (why.kind === 'exhausted') return;
  const sum = (v: Vector) => why.weights.reduce((all, w, i) => all + w * BigInt(v[i] ?? 0), 0n);
  if (why.kind === 'direction') {
    for (const move of moves) expect(sum(move) <= 0n).toBe(true);
    expect(sum(offset) > 0n).toBe(true);
  } else if (why.modulus === 0n) {
    for (const move of moves) expect(sum(move)).toBe(0n);
    expect(sum(offset)).not.toBe(0n);
  } else {
    for (const move of moves) expect(sum(move) % why.modulus).toBe(0n);
    expect(sum(offset) % why.modulus).not.toBe(0n);
  }
}

function instances(axes: number, size: number, far: number, most: number) {
  const vector = (reach: number) =>
    fc.array(fc.integer({ min: -reach, max: reach }), { minLength: axes, maxLength: axes });
  return fc.record({
    moves: fc.array(fc.record({ by: vector(size), cost: fc.integer({ min: 1, max: 40 }) }), {
      minLength: 1,
      maxLength: most,
    }),
    offset: vector(far),
  });
}

// HiGHS (Huangfu, Hall, Math. Prog. Comp. 10 (2018) 119) as an integer program, gap 0.
describe('counts of moves against an integer program', () => {
  test.each([
    ['one axis', 1, 15, 200, 5, 150],
    ['two axes', 2, 6, 60, 6, 200],
    ['two axes, one way', 2, 12, 300, 24, 60],
    ['three axes', 3, 4, 20, 6, 80],
  ])('%s', async (_, axes, size, far, most, numRuns) => {
    const highs = await loadHighs();
    fc.assert(
      fc.property(instances(axes, size, far, most), ({ moves, offset }) => {
        const vectors = moves.map(({ by }) => by);
        const costs = moves.map(({ cost }) => cost);
        const answer = new Combiner(vectors, costs).solve(offset);
        expect(answer.kind).not.toBe('unknown');
        const wanted = leastByMilp(highs, vectors, costs, offset);
        if (answer.kind === 'counts') {
          const { counts, cost } = answer.best;
          expect(cost).toBe(wanted);
          const sum = offset.map((__, axis) =>
            counts.reduce((all, n, i) => all + n * (vectors[i]?.[axis] ?? 0), 0),
          );
          expect(sum).toEqual([...offset]);
          expect(counts.reduce((all, n, i) => all + n * (costs[i] ?? 0), 0)).toBe(cost);
          expect(counts.every((n) => Number.isInteger(n) && n >= 0)).toBe(true);
        } else if (answer.kind === 'impossible') {
          expect(wanted).toBeUndefined();
          checkProof(answer.why, vectors, offset);
        }
      }),
      { numRuns },
    );
  });
});

describe('all counts in order of cost', () => {
  test('as by trying every count', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.record({ by: fc.integer({ min: 1, max: 9 }), cost: fc.integer({ min: 1, max: 9 }) }),
          {
            minLength: 1,
            maxLength: 4,
          },
        ),
        fc.integer({ min: 1, max: 30 }),
        (moves, sum) => {
          // Of moves that do the same, the cheapest stands for all.
          const unlike = moves.filter((move, i) =>
            moves.every(
              (other, j) =>
                other.by !== move.by ||
                other.cost > move.cost ||
                (other.cost === move.cost && j >= i),
            ),
          );
          const costs: number[] = [];
          const fill = (i: number, left: number, cost: number): void => {
            const move = unlike[i];
            if (move === undefined) {
              if (left === 0) costs.push(cost);
              return;
            }
            for (let n = 0; n * move.by <= left; n++)
              fill(i + 1, left - n * move.by, cost + n * move.cost);
          };
          fill(0, sum, 0);
          const purse = new Combiner(
            moves.map(({ by }) => [by]),
            moves.map(({ cost }) => cost),
          );
          const found = [...purse.solutions([sum])].map(({ cost }) => cost);
          expect(found).toEqual(costs.sort((a, b) => a - b));
        },
      ),
    );
  });
});
