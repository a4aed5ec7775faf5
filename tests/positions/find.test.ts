import { describe, expect, test } from 'vitest';
import { programOf } from '@core/model/program.js';
import { knownOf } from '@core/positions/context.js';
import type { Plan } from '@core/positions/plan.js';
import { reasonsFor } from '@core/positions/reasons.js';
import { routeText } from '@core/positions/route-text.js';
import { checkProgram } from '@core/rules/check.js';
import { type Asked, findIn, scopeOfNote } from '../support/finding.js';

const GAME = `game "Saltmarsh Courier" {
  clock 50
  settle 7
  inputs { U = y -1 D = y +1 L = x -1 R = x +1 J = jump }
  pause P { open 4 dwell 10 resume 2 }
}
`;

function plansOf(body: string, asked: Asked): readonly Plan[] {
  const found = findIn(scopeOfNote(GAME + body), asked);
  expect(found.dropped).toBe(0);
  expect(found.exhausted).toBe(true);
  return found.groups.flatMap((group) => group.plans);
}

const sequences = (plans: readonly Plan[]): string[] => plans.map(({ sequence }) => sequence);

function reasons(body: string, from: readonly string[], to: Asked['to']): string[] {
  const scope = scopeOfNote(GAME + body);
  const { log } = knownOf(scope);
  const found = findIn(scope, { from, to });
  expect(found.groups.flatMap((group) => group.plans)).toEqual([]);
  return reasonsFor(
    scope,
    {
      from: from.map((name) => log.spot(name)),
      to: typeof to === 'string' ? { kind: 'spot', spot: log.spot(to) } : { kind: 'window', ...to },
      by: 'ticks',
      best: 5,
      likely: false,
    },
    found,
  );
}

/** Errors of the checker in a plan's route, put behind the note. */
function errorsIn(body: string, plan: Plan): string[] {
  const text = GAME + body;
  const route = routeText(plan, 'found_1', { taken: new Set(), anywhere: false });
  return checkProgram(programOf(text + route))
    .findings.filter(({ severity, span }) => severity === 'error' && span.start >= text.length)
    .map(({ rule }) => rule);
}

describe('how a plan is written', () => {
  test('equal items as repeats, groups of them too', () => {
    const rows = ['U', 'U', 'R', 'D', 'R', 'D'].map(
      (press, i) => `@s${i} : ${press} -> @s${i + 1}`,
    );
    const [plan] = plansOf(`seen { ${rows.join('\n')} }`, { from: ['s0'], to: 's6' });
    expect(plan?.sequence).toBe('U*2 (R D)*2');
  });

  test('phrases where their items are met, the longest first', () => {
    const body = `let hop = R U\nlet stride = R U U\nlet touch = [U1]-J
seen { @a : R -> @b  @b : U -> @c  @c : U -> @d  @d : R -> @e  @e : U -> @f  @f : [U1]-J -> @g }`;
    const [plan] = plansOf(body, { from: ['a'], to: 'g' });
    expect(plan?.sequence).toBe('stride hop touch');
    expect(errorsIn(body, plan as Plan)).toEqual([]);
  });

  test('a phrase that claims, ranges or holds an until is not one', () => {
    const body = `let claims = U @b R\nlet ranges = U R1..2\nlet open = U*1+ until @b
seen { @a : U -> @b  @b : R -> @c }`;
    expect(sequences(plansOf(body, { from: ['a'], to: 'c' }))).toEqual(['U R']);
  });

  test('through a pause, whose brackets close once', () => {
    const body = `spot @in paused "still low"
spot @deep paused "lower"
seen { @a : U0-[] -> @in x4  @in : [.1 R0] -> @deep x3  @deep : [D1]-J U*3 -> @b x6 }`;
    const [plan] = plansOf(body, { from: ['a'], to: 'b' });
    expect(plan?.sequence).toBe('U0-[.1 R0 D1]-J U*3');
    expect(plan?.sightings).toBe(3);
    expect(errorsIn(body, plan as Plan)).toEqual([]);
  });

  test('from and to a state inside a pause, as the log writes it', () => {
    const body = `spot @in paused
seen { @a : U0-[] -> @in x4  @in : [R0]-J -> @b x6 }`;
    const [from] = plansOf(body, { from: ['in'], to: 'b' });
    expect(from?.sequence).toBe('[R0]-J');
    const [to] = plansOf(body, { from: ['a'], to: 'in' });
    expect(to?.sequence).toBe('U0-[]');
    expect(routeText(to as Plan, 'x', { taken: new Set(), anywhere: false })).toBe(
      'route x from @a {\n  U0-[@in]\n}\n',
    );
  });

  test('with a written ~ where the pace would not bring the character to rest', () => {
    const quick = GAME.replace('settle 7', 'settle 7 pace .2');
    const scope = scopeOfNote(`${quick}seen { @a : U -> @b  @b : R -> @c }`);
    const [plan] = findIn(scope, { from: ['a'], to: 'c' }).groups[0]?.plans ?? [];
    expect(plan?.sequence).toBe('U ~ R');
    expect(plan?.ticks).toBe(1 + 7 + 1);
  });
});

describe('longer rows come first', () => {
  test('a plan never takes apart what the log knows as a whole', () => {
    const body = `seen { @a : U -> @b  @b : U -> @c  @a : U U -> @ditch  @b : R -> @d  @d : U -> @c }`;
    expect(sequences(plansOf(body, { from: ['a'], to: 'c' }))).toEqual(['U R U']);
  });
});

describe('several starts', () => {
  const ring = `spot @reed "toe on the plank"
spot @rush "heel in the mud"
spot @mud "knee deep"
seen { @reed : U -> @rush x9  @rush : U -> @mud x9  @mud : U -> @reed x9  @rush : R -> @past x5 }`;

  test('are brought together by an until with a cue of its own', () => {
    const [plan] = plansOf(ring, { from: ['reed', 'mud', 'rush'], to: 'past', best: 1 });
    expect(plan?.sequence).toBe('U*1+ until @rush R');
    expect(plan?.isSure).toBe(true);
    // The nominal course is the first start's: reed to rush in one.
    expect(plan?.ticks).toBe(1 + 7 + 1);
    expect(errorsIn(ring, plan as Plan)).toEqual([]);
  });

  test('but not by one that looks like another on the way', () => {
    const same = ring.replace('knee deep', 'heel in the mud');
    const scope = scopeOfNote(GAME + same);
    const found = findIn(scope, { from: ['reed', 'mud', 'rush'], to: 'past' });
    for (const plan of found.groups.flatMap((group) => group.plans)) {
      expect(plan.sequence).not.toContain('until @rush R');
      expect(errorsIn(same, plan)).toEqual([]);
    }
  });

  test('nor by one without a cue', () => {
    const bare = ring.replace(/spot .*\n/g, '');
    expect(reasons(bare, ['reed', 'mud', 'rush'], 'past')).toEqual([
      'each start has a way of its own, but no items that lead from all of them, no repeat that brings them together, and no cues that tell them apart',
    ]);
  });

  test('are brought together by a repeat that ends in one spot', () => {
    const body = `seen { @a : U -> @b  @b : U -> @c  @c : U -> @c  @c : R -> @past }`;
    const [plan] = plansOf(body, { from: ['a', 'b', 'c'], to: 'past', best: 1 });
    expect(plan?.sequence).toBe('U*2 R');
  });

  test('get a plan each where only their cues tell them apart', () => {
    const body = `spot @a "left of the post"
spot @b "right of the post"
seen { @a : U -> @goal x3  @b : R -> @goal x3 }`;
    const scope = scopeOfNote(GAME + body);
    const found = findIn(scope, { from: ['a', 'b'], to: 'goal' });
    expect(found.groups.map(({ plans }) => sequences(plans))).toEqual([['U'], ['R']]);
    expect(found.exhausted).toBe(true);
  });
});

describe('several landings', () => {
  const fork = `spot @left "on the left stone"
spot @right "on the right stone"
seen { @a : U -> @left x9  @a : U -> @right x2  @left : R -> @past x4  @right : D -> @bank x4  @bank : R -> @past x4 }`;

  test('a rescue for each that the player can tell', () => {
    const [plan] = plansOf(fork, { from: ['a'], to: 'past', best: 1 });
    expect(plan?.sequence).toBe('U @left R @past');
    expect(plan?.rescues).toEqual([{ spot: 'right', sequence: 'D R', to: 'past' }]);
    expect(plan?.isSure).toBe(true);
    expect(errorsIn(fork, plan as Plan)).toEqual([]);
    expect(routeText(plan as Plan, 'r', { taken: new Set(), anywhere: false })).toBe(
      'route r from @a to @past {\n  U @left R @past\n}\nrescue @right in r { D R } -> @past\n',
    );
  });

  test('else what is most likely, and said not to be sure', () => {
    const bare = fork.replace(/spot .*\n/g, '');
    const found = findIn(scopeOfNote(GAME + bare), { from: ['a'], to: 'past', best: 1 });
    expect(found.isFallback).toBe(true);
    expect(found.groups[0]?.plans.map(({ sequence, isSure }) => [sequence, isSure])).toEqual([
      ['U R', false],
    ]);
  });

  test('a plan that is sure comes before a faster one that is not', () => {
    const body = `seen { @a : U -> @goal x9  @a : U -> @ditch x1  @a : R -> @b x2  @b : R -> @goal x2 }`;
    expect(sequences(plansOf(body, { from: ['a'], to: 'goal' }))).toEqual(['R*2']);
    expect(sequences(plansOf(body, { from: ['a'], to: 'goal', likely: true }))).toEqual([
      'U',
      'R*2',
    ]);
  });
});

describe('open ground', () => {
  const yard = `spot @gate at (400, 130)
ground yard within (380, 60) to (520, 140) {
  U by (0, -13)
  [U1] by (0, -14)
  R by (13, 0)
  L by (-26, 0)
}
`;
  const at = (...point: number[]) => ({ low: point, high: point });

  test('counts of moves, ordered so that no point lies outside', () => {
    const [plan] = plansOf(yard, { from: ['gate'], to: at(400, 90), best: 1 });
    expect(plan?.sequence).toBe('U*2 [U1]');
    expect(plan?.goal).toBe('(400, 90)');
    expect(plan?.sightings).toBe(Infinity);
    // Two steps to the left at once would leave the yard; once to the right first does not.
    const [left] = plansOf(yard, { from: ['gate'], to: at(387, 130), best: 1 });
    expect(left?.sequence).toBe('R L');
  });

  test('into a window, the nearest point first', () => {
    const plans = plansOf(yard, {
      from: ['gate'],
      to: { low: [400, 80], high: [426, 95] },
      best: 2,
    });
    expect(plans[0]?.sequence).toBe('U*3');
    expect(plans[0]?.goal).toBe('(400, 91)');
  });

  test('between rows of the log', () => {
    const body = `${yard}spot @step at (413, 104)
seen { @start : D -> @gate x2  @step : J -> @past x2 }`;
    const [plan] = plansOf(body, { from: ['start'], to: 'past', best: 1 });
    expect(plan?.sequence).toBe('D U*2 R J');
    expect(plan?.sightings).toBe(2);
    expect(errorsIn(body, plan as Plan)).toEqual([]);
  });

  test('a row of the log goes before a move that begins alike', () => {
    const body = `${yard}seen { @gate : U -> @ditch x2 }`;
    const [plan] = plansOf(body, { from: ['gate'], to: at(413, 117), best: 1 });
    expect(plan?.sequence).toBe('R U');
  });

  test.each([
    [
      [401, 130],
      'every move changes x by a multiple of 13, and the way there by 1 more than such a multiple',
    ],
    [[400, 131], 'no move makes y larger, and the way there does'],
    [
      [400, 60 + 45],
      'all 2 combinations of the moves that could still get there were looked at, and none does',
    ],
    [[400, 10], 'it lies outside of the ground'],
  ] as const)('cannot lead to %j, with the proof', (point, reason) => {
    const [said] = reasons(yard, ['gate'], at(...point));
    if (reason.startsWith('all')) expect(said).toMatch(/^all \d+ combinations .* none does$/);
    else expect(said).toBe(reason);
  });

  test('cannot lead through a wall: every point inside is looked at', () => {
    const narrow = `spot @gate at (0, 0)
ground ledge within (0, 0) to (10, 0) {
  R by (7, 0)
  L by (-4, 0)
}
`;
    // 7 - 4 = 3, 10, then 6, 2, 9, 5, 1, 8, 4: all but none is out of reach inside.
    const [plan] = plansOf(narrow, { from: ['gate'], to: at(1, 0), best: 1 });
    expect(plan?.goal).toBe('(1, 0)');
    const short = narrow.replace('(10, 0)', '(8, 0)');
    expect(reasons(short, ['gate'], at(1, 0))[0]).toMatch(
      /^all \d+ points that moves reach inside the ground were looked at, and it is none of them$/,
    );
  });
});

describe('no plan', () => {
  test('says what is missing', () => {
    const body = `seen { @a : U -> @b  @c : U -> @d  @c : R -> @c }`;
    expect(reasons(body, ['a'], 'd')).toEqual([
      'from @a rows lead to one other spot, but to none of those next to @d: @c',
    ]);
    expect(reasons(body, ['b'], 'd')).toEqual(['no row leads on from @b']);
    expect(reasons(body, ['a'], 'c')).toEqual(['no row of the log leads to @c']);
    expect(reasons(body, ['a'], 'a')).toEqual(['the character is there already']);
  });
});

describe('slips that lead back', () => {
  const body = `spot @reed "toe on the plank"
spot @tern "a tern on the rail"
spot @mud "sunk to the ankles"
seen { @reed : [U1] -> @tern x9  @reed : [U1] -> @mud x1  @mud : U -> @reed x7  @tern : R -> @past x5 }`;

  test('are rescued to a spot that the route claims, and tried again', () => {
    const [plan] = plansOf(body, { from: ['reed'], to: 'past', best: 1 });
    expect(plan?.sequence).toBe('@reed [U1] @tern R');
    expect(plan?.rescues).toEqual([{ spot: 'mud', sequence: 'U', to: 'reed' }]);
    expect(plan?.sightings).toBe(5);
    const text = GAME + body;
    const route = routeText(plan as Plan, 'found_1', { taken: new Set(), anywhere: false });
    const { findings } = checkProgram(programOf(text + route));
    expect(findings.map(({ rule }) => rule)).toEqual([]);
  });

  test('but not where a spot of the route looks the same', () => {
    const alike = body.replace('sunk to the ankles', 'a tern on the rail');
    const found = findIn(scopeOfNote(GAME + alike), { from: ['reed'], to: 'past', best: 1 });
    expect(found.isFallback).toBe(true);
    expect(found.groups[0]?.plans[0]?.isSure).toBe(false);
  });

  test('nor where the way back is not sure', () => {
    const lost = body.replace(
      '@mud : U -> @reed x7',
      '@mud : U -> @reed x7  @mud : U -> @ditch x1',
    );
    const found = findIn(scopeOfNote(GAME + lost), { from: ['reed'], to: 'past', best: 1 });
    expect(found.isFallback).toBe(true);
  });
});
