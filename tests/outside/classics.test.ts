import { describe, expect, test } from 'vitest';
import { findIn, scopeOfNote } from '../support/finding.js';

/** Moves of a puzzle, by the name of each state. */
type Moves = (state: string) => readonly string[];

const LETTERS = ['U', 'D', 'L', 'R', 'UL', 'UR', 'DL', 'DR'];

/** All states from the first, a spot each; the moves of a state are presses in their order. */
function fewestMoves(first: string, isDone: (state: string) => boolean, moves: Moves): number {
  const numbers = new Map([[first, 0]]);
  const rows: string[] = [];
  const done: string[] = [];
  for (const [state, number] of numbers) {
    if (isDone(state)) {
      done.push(`  @s${number} : J -> @done x2\n`);
      continue;
    }
    moves(state).forEach((next, k) => {
      if (!numbers.has(next)) numbers.set(next, numbers.size);
      const press = `${LETTERS[k % 8] ?? 'U'}${1 + Math.floor(k / 8)}`;
      rows.push(`  @s${number} : ${press} -> @s${numbers.get(next) ?? 0} x2\n`);
    });
  }
  const text = `game "Old Riddles" { clock 60 settle 3 inputs { U = y -1 D = y +1 L = x -1 R = x +1 J = jump } }
seen {\n${rows.join('')}${done.join('')}}\n`;
  const found = findIn(scopeOfNote(text), { from: ['s0'], to: 'done', by: 'presses', best: 1 });
  expect(found.exhausted).toBe(true);
  return (found.groups[0]?.plans[0]?.presses ?? NaN) - 1;
}

// The fewest moves are common knowledge of these riddles (from memory: Rouse Ball and Coxeter,
// Mathematical Recreations and Essays, chapters 1 and 4; Alcuin's Propositiones 18).
describe('old riddles as logs', () => {
  test.each([
    ['3 and 5 for 4', [3, 5], 4, 6],
    ['4 and 3 for 2', [4, 3], 2, 4],
  ])('jugs of %s', (_, sizes, wanted, moves) => {
    const pour: Moves = (state) => {
      const full = state.split(' ').map(Number);
      const next: string[] = [];
      for (let i = 0; i < 2; i++) {
        const [mine, other] = [full[i] ?? 0, full[1 - i] ?? 0];
        const with_ = (a: number, b: number) => (i === 0 ? `${a} ${b}` : `${b} ${a}`);
        const flow = Math.min(mine, (sizes[1 - i] ?? 0) - other);
        next.push(with_(sizes[i] ?? 0, other), with_(0, other), with_(mine - flow, other + flow));
      }
      return [...new Set(next)].filter((each) => each !== state);
    };
    const isDone = (state: string) => state.split(' ').some((n) => Number(n) === wanted);
    expect(fewestMoves('0 0', isDone, pour)).toBe(moves);
  });

  test('wolf, goat and cabbage: 7', () => {
    // Banks of wolf, goat, cabbage, boat.
    const cross: Moves = (state) => {
      const banks = state.split('');
      const boat = banks[3] ?? '0';
      const over = boat === '0' ? '1' : '0';
      const next: string[] = [];
      for (const load of [-1, 0, 1, 2]) {
        if (load >= 0 && banks[load] !== boat) continue;
        const after = [...banks];
        after[3] = over;
        if (load >= 0) after[load] = over;
        const [wolf, goat, cabbage, man] = after;
        if ((wolf === goat || goat === cabbage) && goat !== man) continue;
        next.push(after.join(''));
      }
      return next;
    };
    expect(fewestMoves('0000', (state) => state === '1111', cross)).toBe(7);
  });

  test('three missionaries and three cannibals: 11', () => {
    const row: Moves = (state) => {
      const [m = 0, c = 0, boat = 0] = state.split(' ').map(Number);
      const sign = boat === 1 ? -1 : 1;
      const loads = [[1, 0], [2, 0], [0, 1], [0, 2], [1, 1]] as const; // prettier-ignore
      return loads.flatMap(([a, b]) => {
        const [x, y] = [m + sign * a, c + sign * b];
        if (x < 0 || x > 3 || y < 0 || y > 3) return [];
        if ((x > 0 && y > x) || (x < 3 && 3 - y > 3 - x)) return [];
        return [`${x} ${y} ${1 - boat}`];
      });
    };
    expect(fewestMoves('3 3 1', (state) => state === '0 0 0', row)).toBe(11);
  });

  test.each([
    [3, 7],
    [4, 15],
    [5, 31],
  ])('the tower of %i discs: %i', (discs, moves) => {
    const lift: Moves = (state) => {
      const next: string[] = [];
      for (let from = 0; from < 3; from++) {
        const disc = state.indexOf(String(from));
        for (let to = 0; to < 3; to++) {
          const top = state.indexOf(String(to));
          if (to === from || disc < 0 || (top >= 0 && top < disc)) continue;
          next.push(state.slice(0, disc) + String(to) + state.slice(disc + 1));
        }
      }
      return next;
    };
    const isDone = (state: string) => state === '2'.repeat(discs);
    expect(fewestMoves('0'.repeat(discs), isDone, lift)).toBe(moves);
  });
});

// Černý, Matematicko-fyzikálny časopis 14 (1964) 208: the shortest word that brings all n states
// of his automaton into one has (n - 1)² letters (from memory).
test.each([
  [2, 1],
  [3, 4],
  [4, 9],
  [5, 16],
  [6, 25],
])('all %i starts of a ring come together after %i presses', (n, presses) => {
  const rows: string[] = [];
  for (let i = 0; i < n; i++) {
    rows.push(`@s${i} : U -> @s${(i + 1) % n} x2`, `@s${i} : D -> @s${i === n - 1 ? 0 : i} x2`);
  }
  const scope = scopeOfNote(
    `game "Round Pond" { clock 60 settle 3 inputs { U = y -1 D = y +1 } }\nseen { ${rows.join('\n')} }\n`,
  );
  const from = Array.from({ length: n }, (_, i) => `s${i}`);
  const fewest = from.map((to) => {
    const found = findIn(scope, { from, to, by: 'presses', best: 1 });
    expect(found.exhausted).toBe(true);
    return found.groups[0]?.plans[0]?.presses ?? Infinity;
  });
  expect(Math.min(...fewest)).toBe(presses);
});
