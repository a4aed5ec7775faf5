import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { orbits, successors } from '@core/positions/orbit.js';
import { traceOf } from './note.js';

const maps = fc
  .integer({ min: 1, max: 30 })
  .chain((size) =>
    fc.array(fc.oneof({ weight: 6, arbitrary: fc.nat(size - 1) }, { weight: 1, arbitrary: fc.constant(-1) }), { minLength: size, maxLength: size }),
  ); // prettier-ignore
const next = (map: readonly number[]) => (state: number) => {
  const to = map[state] ?? -1;
  return to < 0 ? undefined : to;
};
const key = (state: number): number => state;

describe('orbits of random maps', () => {
  test('have the tail and the cycle of a walk with a list of what was seen', () => {
    fc.assert(
      fc.property(maps, (map) => {
        const all = map.map((_, i) => i);
        orbits(all, next(map), key).forEach((orbit, from) => {
          const walk: number[] = [];
          let state = from;
          while (state >= 0 && !walk.includes(state)) {
            walk.push(state);
            state = map[state] ?? -1;
          }
          if (state < 0) {
            expect(orbit).toBeUndefined();
            return;
          }
          const entry = walk.indexOf(state);
          expect(orbit?.tail).toBe(entry);
          const sorted = (list: readonly number[] = []) => [...list].sort((a, b) => a - b);
          expect(sorted(orbit?.cycle)).toEqual(sorted(walk.slice(entry)));
          // In order, wherever it begins.
          orbit?.cycle.forEach((each, i) => {
            expect(map[each]).toBe(orbit.cycle[(i + 1) % orbit.cycle.length]);
          });
        });
      }),
      { numRuns: 500 },
    );
  });

  test('asks for each successor once', () => {
    const size = 50_000;
    let asked = 0;
    const chain = (i: number): number => {
      asked++;
      return Math.min(i + 1, size - 1);
    };
    const all = Array.from({ length: size }, (_, i) => i);
    expect(orbits(all, chain, key)[0]).toEqual({ tail: size - 1, cycle: [size - 1] });
    expect(asked).toBeLessThanOrEqual(size);
  });

  test('successors are those of so many single steps', () => {
    fc.assert(
      fc.property(maps, fc.nat(80), fc.array(fc.nat(29)), (map, times, some) => {
        const from = some.filter((state) => state < map.length);
        const ends = from.map((state) => {
          let at = state;
          for (let i = 0; i < times && at >= 0; i++) at = map[at] ?? -1;
          return at;
        });
        const found = successors(from, next(map), key, times);
        if (ends.includes(-1)) expect(found).toBeUndefined();
        else expect(found).toEqual(ends);
      }),
      { numRuns: 1000 },
    );
  });

  test('successors do not look further than they must', () => {
    expect(successors([0], next([1, 2, -1]), key, 2)).toEqual([2]);
    expect(successors([0], next([1, 2, -1]), key, 3)).toBeUndefined();
    expect(successors([0], next([-1]), key, 0)).toEqual([0]);
  });
});

describe('where a repeat settles', () => {
  const game = 'game "Tin Pier" { clock 60 settle 5 inputs { U = y -1 D = y +1 } pause P { open 2 dwell 4 resume 2 } }\n'; // prettier-ignore
  const settles = (seen: string, route: string) =>
    traceOf(`${game}seen { ${seen} }\nroute r ${route}\n`).steps[0]?.settles;
  const ring = '@a : U -> @b  @b : U -> @c  @c : U -> @b  @d : U -> @a';

  test.each([
    ['a tail and a cycle from its least name on', ring, 'from anywhere { U*3 }', [['b', 'c']], 2, [], 4],
    ['two cycles', `${ring}  @e : U -> @e`, 'from anywhere { U*3 }', [['b', 'c'], ['e']], 2, [], 5],
    ['all in it from the first on', ring, 'from @b @c { U*9 }', [['b', 'c']], 0, [], 2],
    ['one that is lost', '@a : U -> @b  @b : U -> @b  @d : U -> @e', 'from @a @d { U*2 }', [['b']], 1, ['d'], 2],
    ['all lost', '@a : U -> @b  @d : U -> @e', 'from @a @d { U*2 }', [], 0, ['a', 'd'], 2],
    ['the most sighted landing', '@a : U -> @b x2  @a : U -> @c x3  @b : U -> @b  @c : U -> @c', 'from @a @b { U*2 }', [['b'], ['c']], 1, [], 2],
    ['an until', ring, 'from anywhere { U*2+ until @b }', [['b', 'c']], 2, [], 4],
    ['a body of several items', `${ring}  @b : D -> @b  @c : D -> @c`, 'from @b @c { (U D)*4 }', [['b', 'c']], 0, [], 2],
    ['too short a gap for the rows', ring, 'from @a @b { (pace .2 U*9) }', undefined, 0, [], 2],
  ] as const)('%s', (_, seen, route, cycles, after, lost, starts) => {
    const found = settles(seen, route);
    if (cycles === undefined) expect(found).toBeUndefined();
    else expect(found).toEqual({ cycles, after, lost, starts });
  }); // prettier-ignore

  test('is not said of one start, nor of an item that is not repeated', () => {
    expect(settles(ring, 'from @a { U*9 }')).toBeUndefined();
    expect(settles(ring, 'from @a @b { U }')).toBeUndefined();
  });

  test('needs rows over the gap where the pace is shorter than settling', () => {
    const steps = traceOf(`${game.replace('settle 5', 'settle 5 pace .2')}seen { ${ring} }\nroute r from @a @b { U*9 }\n`).steps; // prettier-ignore
    expect(steps[0]?.settles).toMatchObject({ cycles: [], lost: ['a', 'b'] });
    expect(steps[0]?.unknown).toBe(true);
  });
});
