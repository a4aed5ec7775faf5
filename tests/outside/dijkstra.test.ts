import { describe, expect, test } from 'vitest';
import { knownOf } from '@core/positions/context.js';
import { costsFrom } from '@core/positions/distances.js';
import { graphOf } from '@core/positions/graph.js';
import { findIn, scopeOfNote } from '../support/finding.js';

type Edges = readonly (readonly [from: string, to: string, cost: number])[];

// Cormen, Leiserson, Rivest, Stein, Introduction to Algorithms, 2nd ed., Figure 24.6 (from
// memory): from s, t 8, x 9, y 5, z 7; to x by s, y, t, x.
const CLRS: Edges = [
  ['s', 't', 10], ['s', 'y', 5], ['t', 'x', 1], ['t', 'y', 2], ['y', 't', 3],
  ['y', 'x', 9], ['y', 'z', 2], ['x', 'z', 4], ['z', 's', 7], ['z', 'x', 6],
]; // prettier-ignore

// The graph of six places with which Wikipedia ("Dijkstra's algorithm") shows it (from memory):
// from 1 to 5 in 20, by 3 and 6.
const SIX: Edges = (
  [
    [1, 2, 7], [1, 3, 9], [1, 6, 14], [2, 3, 10], [2, 4, 15], [3, 4, 11], [3, 6, 2], [4, 5, 6], [5, 6, 9],
  ] as const
).flatMap(([a, b, cost]) => [
  [`n${a}`, `n${b}`, cost],
  [`n${b}`, `n${a}`, cost],
]); // prettier-ignore

/**
 * A road as one press, as long as it costs: with nothing between two presses but what makes
 * them two, ticks are the cost of the road and one tick a stop.
 */
function noteOf(edges: Edges): string {
  const letters = ['U', 'D', 'L', 'R'];
  const used = new Map<string, number>();
  const rows = edges.map(([from, to, cost]) => {
    const k = used.get(from) ?? 0;
    used.set(from, k + 1);
    return `  @${from} : ${letters[k] ?? ''}${cost} -> @${to} x2\n`;
  });
  return `game "Six Piers" { clock 60 pace .1 inputs { U = y -1 D = y +1 L = x -1 R = x +1 } }\nseen {\n${rows.join('')}}\n`;
}

function costs(edges: Edges, from: string): Record<string, number> {
  const { log } = knownOf(scopeOfNote(noteOf(edges)));
  const graph = graphOf(log);
  const byRow = Float64Array.from(graph.stretch, (stretch) => {
    const key = log.tokens.keys[log.stretches[stretch]?.ids[0] ?? 0] ?? '';
    return Number(key.split('*')[1]);
  });
  const found = costsFrom(graph, log.spot(from), byRow);
  return Object.fromEntries(log.names.map((name, spot) => [name, found[spot] ?? NaN]));
}

describe('the worked examples of Dijkstra', () => {
  test('distances', () => {
    expect(costs(CLRS, 's')).toEqual({ s: 0, t: 8, x: 9, y: 5, z: 7 });
    expect(costs(SIX, 'n1')).toEqual({ n1: 0, n2: 7, n3: 9, n4: 20, n5: 20, n6: 11 });
  });

  test('the way itself, in ticks', () => {
    const [clrs] =
      findIn(scopeOfNote(noteOf(CLRS)), { from: ['s'], to: 'x' }).groups[0]?.plans ?? [];
    expect(clrs?.sequence).toBe('D5 U3 U');
    expect(clrs?.ticks).toBe(9 + 2);
    const [six] =
      findIn(scopeOfNote(noteOf(SIX)), { from: ['n1'], to: 'n5' }).groups[0]?.plans ?? [];
    expect(six?.ticks).toBe(20 + 2);
    expect(six?.presses).toBe(3);
  });
});
