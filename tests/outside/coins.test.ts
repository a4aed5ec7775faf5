import { describe, expect, test } from 'vitest';
import { Combiner } from '@core/positions/combine.js';

/** Values as moves along one axis, every move of cost 1: making change. */
function coins(values: readonly number[]): Combiner {
  return new Combiner(
    values.map((value) => [value]),
    values.map(() => 1),
  );
}

function least(values: readonly number[], sum: number): number | undefined {
  const answer = coins(values).solve([sum]);
  if (answer.kind === 'unknown') throw new Error('the budget ran out');
  return answer.kind === 'counts' ? answer.best.cost : undefined;
}

// Sylvester, Educational Times 41 (1884) 21: of two coins a, b without a common factor the
// largest sum that cannot be paid is ab - a - b, and (a - 1)(b - 1)/2 sums cannot; three coins:
// Weisstein, "Frobenius Number", MathWorld (6, 9, 20 gives 43), the others worked out by a
// table of all sums.
describe('the largest sum that no coins make', () => {
  test.each([
    [[2, 5], 3, 2],
    [[3, 5], 7, 4],
    [[4, 9], 23, 12],
    [[7, 11], 59, 30],
    [[9, 20], 151, 76],
    [[12, 13], 131, 66],
    [[101, 103], 10199, 5100],
    [[6, 9, 20], 43, 22],
    [[5, 8, 15], 27, 14],
    [[4, 6, 9], 11, 6],
    [[10, 16, 19], 63, 33],
    [[8, 9, 15], 37, 19],
  ])('%j: %i, and %i in all', (values, largest, many) => {
    const purse = coins(values);
    let impossible = 0;
    const beyond = largest + Math.max(...values);
    for (let sum = 0; sum <= beyond; sum++) {
      const answer = purse.solve([sum]);
      expect(answer.kind).not.toBe('unknown');
      if (answer.kind === 'impossible') {
        impossible++;
        expect(sum).toBeLessThanOrEqual(largest);
      } else if (sum === largest) expect.unreachable();
    }
    expect(impossible).toBe(many);
  });
});

// The coin-change tables of Cormen, Leiserson, Rivest, Stein, Introduction to Algorithms (from
// memory); the counts follow from a table of all sums.
test.each([
  [[1, 3, 4], 6, 2],
  [[1, 10, 25], 30, 3],
  [[1, 15, 25], 30, 2],
  [[1, 5, 10, 20, 25], 40, 2],
  [[4, 6, 9], 11, undefined],
  [[1, 5, 10, 25, 50], 99, 8],
  [[6, 9, 20], 43, undefined],
  [[6, 9, 20], 44, 4],
  [[9, 20], 151, undefined],
  [[9, 20], 152, 12],
])('%j make %i with %s coins', (values, sum, count) => {
  expect(least(values, sum)).toBe(count);
});
