import { describe, expect, test } from 'vitest';
import { LIMITS } from '@core/text/limits.js';
import { buildTimeline } from '@core/timeline/build.js';
import { type Settings, sequenceOf, shown, tickShown, timelineOf } from '../support/timelines.js';

/** The ticks of a sequence; see `tickShown` for the words. */
function ticks(body: string, settings?: Settings): string {
  return shown(timelineOf(body, settings));
}

test('the worked example of section 4, cell by cell', () => {
  const example = timelineOf('D [D1]-J .2', { settle: 3, open: 2, dwell: 3, resume: 1 });
  expect([example.ticks, example.frames]).toEqual([18, 8]);
  const held = ['D', '', '', '', 'P', '', '', '', 'DP', 'D', 'DP', '', '', '', 'JP', 'J', '', ''];
  const none = undefined;
  const frame = [
    ...[0, 1, 2, 3, none, none, none, none, none, 4],
    ...[none, none, none, none, none, 5, 6, 7],
  ];
  for (let tick = 0; tick < 18; tick++) {
    const run = example.at(tick);
    if (run === undefined) throw new Error(`no tick ${tick}`);
    expect(tickShown(example, run).replace("'", '').replace('.', ''), `tick ${tick}`).toBe(
      held[tick],
    );
    const at = run.frame === undefined ? undefined : run.frame + tick - run.tick;
    expect(at, `frame on tick ${tick}`).toBe(frame[tick]);
  }
  expect(example.at(18)).toBeUndefined();
});

describe('presses and waits', () => {
  test.each<[string, string, Settings?]>([
    ['D', 'D'],
    ['D3', 'D D D'],
    ['DR2', 'DR DR'],
    ['D3..5', 'D D D'],
    ['D .2 U', 'D . . U'],
    ['.2', '. .'],
    ['D-DR2-R', 'D DR DR R'],
    ['D U', 'D . . U', { pace: '.2' }],
    ['D pace .1 U J', 'D . U . J', { pace: '.3' }],
    ['D100ms', 'D D D'],
    ['D*3', 'D . D . D', { pace: '.1' }],
    ['(.1)*3', '. . .'],
    ['D*2..7', 'D . D', { pace: '.1' }],
    ['D*2+ until @a', 'D . D', { pace: '.1' }],
    ['(D-U)*2', 'D U . D U', { pace: '.1' }],
    ['choose way { left { L } right { R } } D', 'L . D', { pace: '.1' }],
    ['D @a', 'D'],
    ['', ''],
  ])('%s', (body, all, settings) => {
    expect(ticks(body, settings)).toBe(all);
  });
});

describe('settling', () => {
  test.each<[string, string, Settings]>([
    ['D U', 'D . . . U', { settle: 3 }],
    ['D ~ U', 'D . . . U', { settle: 3 }],
    ['D .1 ~ U', 'D . . . U', { settle: 3 }],
    ['D .5 ~ U', 'D . . . . . U', { settle: 3 }],
    ['D ~ ~ U', 'D . . . U', { settle: 3 }],
    ['D U', 'D U', { settle: 0 }],
    // Nothing was held yet, so there is nothing to wait for.
    ['.2 ~ D', '. . D', { settle: 5 }],
    ['~ D', 'D', { settle: 5 }],
    ['[.1] D', "P' .' .' P' . P' .' .' P' D", { settle: 5 }],
    // Frames of the windows count, paused ticks do not.
    ['D-[.1] U', "D DP' .' .' P' . P' .' .' P' . . U", { settle: 3 }],
    ['D-[.2 .2] U', "D DP' .' .' P' . . P' .' .' P' . . P' .' .' P' U", { settle: 3 }],
    // An input that is held on a paused tick begins the count anew, although no frame runs.
    ['D .2 [U0] ~ U', "D . . P' .' .' UP' U' UP' .' .' P' .' . . . U", { settle: 3, resume: 2 }],
    ['D pace .1 D0-[] pace ~ U', "D . DP' .' .' P' . . . U", { settle: 3 }],
    // With `resume 0` a frame runs on the tick of ], a neutral one where nothing is joined.
    ['D-[] U', "D DP' .' .' P . . U", { settle: 3, resume: 0 }],
    ['D-[]-J U', "D DP' .' .' JP . . . U", { settle: 3, resume: 0 }],
    // The first time through a repeat finds nothing to wait for, the others do.
    ['(~ D)*3', 'D . . . D . . . D', { settle: 3 }],
    ['(~ D)*3', 'D . . . D . . . D', { settle: 3, pace: '.1' }],
    ['D (.1)*2 ~ U', 'D . . . U', { settle: 3 }],
    ['D ((.1)*2)*2 ~ U', 'D . . . . . U', { settle: 5 }],
    // Holding is no waiting: within a hold the count does not begin.
    ['J&(D .2) ~ U', 'DJ J J . . . U', { settle: 3 }],
  ])('%s', (body, all, settings) => {
    expect(ticks(body, settings)).toBe(all);
  });
});

/** The pace stands wide of the pauses, so that it is never taken for one of their ticks. */
const P1 = { pace: '.1', resume: 1 };
const P0 = { pace: '.1', resume: 0 };
const P2 = { pace: '.1', resume: 2 };
const P3 = { pace: '.1', resume: 3 };

describe('pauses and windows', () => {
  test.each<[string, string, Settings]>([
    ['[]', "P' .' .' P'", P1],
    ['[]', "P' .' .' P", P0],
    ['[]', "P' .' .' P' .' .'", P3],
    ['[D1]', "P' .' .' DP' D DP' .' .' P'", P1],
    ['[D1]', "P' .' .' DP DP' .' .' P", P0],
    ['[D1]', "P' .' .' DP' D' D DP' .' .' P' .'", P2],
    ['[D2]', "P' .' .' DP D DP' .' .' P", P0],
    ['[D0 R0]', "P' .' .' DP' D' DP' .' .' RP' R' RP' .' .' P' .'", P2],
    ['[D1-R1]', "P' .' .' DP' D R RP' .' .' P'", P1],
    ['[D1-R1]', "P' .' .' DP R RP' .' .' P", P0],
    ['[.1-D1]', "P' .' .' P' . D DP' .' .' P'", P1],
    ['[.1 .1 D1]', "P' .' .' P' . P' .' .' P' . P' .' .' DP' D DP' .' .' P'", P1],
    ['[D1*2]', "P' .' .' DP' D DP' D' D' DP' D DP' .' .' P'", P1],
    [
      '[(D1 R1)*2]',
      "P' .' .' DP' D DP' .' .' RP' R RP' .' .' DP' D DP' .' .' RP' R RP' .' .' P'",
      P1,
    ],
    ['[D1..3]', "P' .' .' DP' D DP' .' .' P'", P1],
    ['[D1 @a]', "P' .' .' DP' D DP' .' .' P'", P1],
    ['D [] U', "D . P' .' .' P' . U", P1],
    ['D .2 [] .1 U', "D . . P' .' .' P' . U", P1],
  ])('%s', (body, all, settings) => {
    expect(ticks(body, settings)).toBe(all);
  });
});

describe('what is joined to a pause', () => {
  test.each<[string, string, Settings]>([
    ['D-[]', "D DP' .' .' P'", P1],
    ['D0-[]', "DP' .' .' P'", P1],
    ['D0-[]', "DP' .' .' P", P0],
    ['U-D0-[]', "U DP' .' .' P'", P1],
    ['D-[D1]', "D DP' D' D' DP' D DP' .' .' P'", P1],
    ['DR-[R1-J1]', "DR DRP' R' R' RP' R J JP' .' .' P'", P1],
    ['[]-J', "P' .' .' JP' J", P1],
    ['[]-J', "P' .' .' JP' J' J' J", P3],
    ['[]-D5', "P' .' .' DP D D D D", P0],
    ['[]-J', "P' .' .' JP", P0],
    ['D-[]-D', "D DP' D' D' DP' D", P1],
    ['D1-[D1]-D2', "D DP' D' D' DP' D DP' D' D' DP' D D", P1],
    ['D1-[D1]-D2', "D DP' D' D' DP DP' D' D' DP D", P0],
    // The first of a repeat is the one that is joined, and so is the last.
    ['[]-J*3', "P' .' .' JP' J . J . J", P1],
    ['[]-J2*2', "P' .' .' JP J . J J", P0],
    ['D*2-[]', "D . D DP' .' .' P'", P1],
    ['(D-[D1])*2', "D DP' D' D' DP' D DP' .' .' P' . D DP' D' D' DP' D DP' .' .' P'", P1],
    ['D-[D1]*2', "D DP' D' D' DP' D DP' .' .' P' . P' .' .' DP' D DP' .' .' P'", P1],
    // Through groups and phrases.
    ['(U D)-([]-J)', "U . D DP' .' .' JP' J", P1],
    ['leap-[]-leap', "D . J JP' .' .' DP' D . J", { ...P1, lets: 'let leap = D J' }],
    // A space, even one without a tick, joins nothing; nor does a written wait.
    ['D []', "D P' .' .' P'", { pace: '.0' }],
    ['D .1 []', "D . P' .' .' P'", P1],
    ['[] .1 D', "P' .' .' P . D", P0],
    ['[]-J0-[]', "P' .' .' JP' J' JP' .' .' P' .'", P2],
  ])('%s', (body, all, settings) => {
    expect(ticks(body, settings)).toBe(all);
  });
});

describe('holds', () => {
  test.each<[string, string, Settings]>([
    ['D&(.4 J .3)', 'D D D D DJ D D D', P1],
    ['D&(J S) U', 'DJ D DS . U', P1],
    ['D&(J&(S .1) U)', 'DJS DJ DU', P1],
    ['D&(J)*2', 'DJ . DJ', P1],
    ['(D&(J))*2', 'DJ . DJ', P1],
    ['D&(J*2)', 'DJ D DJ', P1],
    // Menus and the tick of ] are part of the group; nothing is left out.
    ['D&([J1])', "DP' D' D' DJP' DJ DJP' D' D' DP'", P1],
    ['[D&(J1 S1)]', "P' .' .' DJP' DJ DJP' D' D' DSP' DS DSP' D' D' P'", P1],
    ['[J1 J&(S1)]', "P' .' .' JP' J JP' J' J' JSP' JS JSP' J' J' P'", P1],
    ['[J&(S1) J1]', "P' .' .' JSP' JS JSP' J' J' JP' J JP' .' .' P'", P1],
    // A hold that touches a pause hands over its inputs and those of the press at its edge.
    ['D&(J)-[]', "DJ DJP' .' .' P'", P1],
    ['D&(.1 J)-[J1]', "D DJ DJP' J' J' JP' J JP' .' .' P'", P1],
    ['D&(J)-[D1]', "DJ DJP' D' D' DP' D DP' .' .' P'", P1],
    ['[]-D&(J2)', "P' .' .' DJP' DJ DJ", P1],
    ['[]-D&(J2)', "P' .' .' DJP DJ", P0],
    ['[]-D&(J S)', "P' .' .' DJP' DJ D DS", P1],
    ['D-[]-D&(J)', "D DP' D' D' DJP' DJ", P1],
    ['D&(J)-[]-J&(D)', "DJ DJP' DJ' DJ' DJP' DJ", P1],
    ['S&(D-[])-D', "DS DSP' DS' DS' DSP' D", P1],
    [
      'D&([J1])-[D1]',
      "DP' D' D' DJP' DJ' DJ DJP' D' D' DP' D' DP' D' D' DP' D' D DP' .' .' P' .'",
      P2,
    ],
  ])('%s', (body, all, settings) => {
    expect(ticks(body, settings)).toBe(all);
  });
});

test('a written wait at the edge of a hold joins nothing', () => {
  expect(ticks('[] D&(.1 J)', P1)).toBe("P' .' .' P' D DJ");
  expect(ticks('D&(J .1) []', P1)).toBe("DJ D P' .' .' P'");
});

describe('where the text says less than everything', () => {
  test('repeatCount answers for a repeat, each step once, or leaves it to the text', () => {
    const asked: number[] = [];
    const repeatCount = (step: { lo: number; hi: number }) => {
      asked.push(step.lo);
      return step.lo === 2 ? 4 : undefined;
    };
    const settings = { pace: '.1', lets: 'let twice = D*2+ until @a' };
    const timeline = timelineOf('twice twice U*3', settings, { repeatCount });
    expect(shown(timeline)).toBe('D . D . D . D . D . D . D . D . U . U . U');
    expect(asked).toEqual([2, 3]);
    expect(shown(timelineOf('D U*2 D', { pace: '.1' }, { repeatCount: () => 0 }))).toBe('D . . D');
  });

  test('a count that is no count is refused', () => {
    const { sequence, game } = sequenceOf('D*2', { pace: '.1' });
    for (const count of [-1, 0.5, NaN, Infinity, 2 ** 53]) {
      expect(() => buildTimeline(sequence, game, { repeatCount: () => count })).toThrow(
        `a repeat runs a whole number of times, not ${count}`,
      );
    }
  });

  /** A row of a log: its first or its last bracket stays open. */
  function row(body: string, from: number, to?: number) {
    const { sequence, game } = sequenceOf(body, P1);
    return buildTimeline({ ...sequence, steps: sequence.steps.slice(from, to) }, game, {
      startPaused: from > 0,
    });
  }
  test('a row that begins or ends at a paused spot', () => {
    const begins = row('[R0]-J', 1);
    if ('tooLong' in begins) throw new Error('too long');
    expect(shown(begins)).toBe("RP' RP' .' .' JP' J");
    expect(begins.startsPaused).toBe(true);
    const closes = row('[]-J', 1);
    expect('tooLong' in closes || shown(closes)).toBe("JP' J");
    // At the end there is no tick after the menu that could hold anything.
    const ends = row('U-[U1]', 0, -1);
    expect('tooLong' in ends || shown(ends)).toBe("U UP' U' U' UP' U UP' .' .'");
  });

  test('a game without a pause or without settle still gives ticks', () => {
    const { sequence, game } = sequenceOf('D ~ [U1]-J', P1);
    const timeline = buildTimeline(sequence, { ...game, pause: undefined });
    expect('tooLong' in timeline || shown(timeline)).toBe("D P' .' UP' U UP' .' JP' J");
  });
});

test('lengths that leave the exact numbers are refused, the last exact one is not', () => {
  const longest = timelineOf(`.${LIMITS.count}`);
  expect(longest.ticks).toBe(Number.MAX_SAFE_INTEGER);
  expect(longest.at(LIMITS.count - 1)?.tick).toBe(0);
  for (const body of [
    `.${LIMITS.count} .1`,
    `D.${LIMITS.count}`,
    '.2*4503599627370496',
    '(((D*1000000)*1000000)*1000000)*1000000',
    `[.1*${LIMITS.count}]`,
  ]) {
    const { sequence, game } = sequenceOf(body, { pace: '.1' });
    expect(buildTimeline(sequence, game), body).toEqual({ tooLong: true, limit: 2 ** 53 - 1 });
  }
  const nothing = timelineOf(`(D*3)*${LIMITS.count}`, P1, {
    repeatCount: (step) => (step.lo === 3 ? 0 : step.lo),
  });
  expect(nothing.frames).toBe(LIMITS.count - 1);
});
