import { describe, expect, test } from 'vitest';
import { nominalRoute } from '@core/positions/nominal.js';
import type { RepeatStep, Sequence } from '@core/model/steps.js';
import { routeOf, scopeFor } from './note.js';

const GAME = 'game "Tin Pier" { clock 60 settle 5 inputs { U = y -1 D = y +1 } pause P { open 2 dwell 4 resume 2 } }\n'; // prettier-ignore
const LOG = `seen {
  @a : U -> @b x4
  @b : U -> @c x5
  @b : U -> @d x2
  @c : U -> @b x6
  @d : U -> @d x2
}
`;

function untils(sequence: Sequence): RepeatStep[] {
  return sequence.steps.flatMap((step) => {
    if (step.kind === 'repeat') return [...(step.repeat.open ? [step] : []), ...untils(step.body)];
    return step.kind === 'group' || step.kind === 'hold' ? untils(step.body) : [];
  });
}

/** How often each until of a route is played. */
function countsOf(route: string, choices = new Map<string, string>()): number[] {
  const scope = scopeFor(`${GAME}${LOG}route r ${route}\n`);
  const { declaration, unit } = routeOf(scope);
  const { sequence, repeatCount } = nominalRoute(declaration, unit, scope, choices);
  return untils(sequence).map(repeatCount);
}

describe('how often an until is played, nominally', () => {
  test.each([
    ['the fewest that bring the start there', 'from @a { U*1+ until @c }', [2]],
    ['not under the minimum', 'from @a { U*5+ until @c }', [6]],
    ['the minimum where it is met at once', 'from @a { U*6+ until @c }', [6]],
    ['of the first start', 'from @b @a { U*2+ until @c }', [3]],
    ['of the first start, as they are written', 'from @a @b { U*2+ until @c }', [2]],
    ['of the first start of the log', 'from anywhere { U*2+ until @c }', [2]],
    ['along the most sighted rows', 'from @a { U*1+ until @d }', [1]],
    ['the minimum where the log does not say', 'from @z { U*3+ until @c }', [3]],
    ['the minimum where it never arrives', 'from @a { U*3+ until @a }', [3]],
    ['the minimum where the route says no start', '{ U*3+ until @c }', [3]],
    ['one behind the other', 'from @a { U*1+ until @c U*1+ until @b }', [2, 1]],
    ['behind a claim', 'from @z { D @a U*2+ until @c }', [2]],
    ['behind a repeat of any count', 'from @a { U*1000000000000 U*1+ until @b }', [1]],
    ['in a group', 'from @a { (U*1+ until @c .9) }', [2]],
  ])('%s', (_, route, counts) => {
    expect(countsOf(route)).toEqual(counts);
  });

  test('of the way that is chosen', () => {
    const route = 'from @a { choose w { one { U*1+ until @c } two { U U*1+ until @b } } }';
    expect(countsOf(route)).toEqual([2]);
    expect(countsOf(route, new Map([['w', 'two']]))).toEqual([2]);
  });
});
