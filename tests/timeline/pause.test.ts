import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { buildTimeline } from '@core/timeline/build.js';
import { pauseMachine } from '@core/timeline/pause-machine.js';
import { analysePause } from '@core/timeline/pause-presses.js';
import { notation } from '../support/plain-notation.js';
import { plainCases } from '../support/plain-sequences.js';
import { type Settings, routeTimeline, sequenceOf, timelineOf } from '../support/timelines.js';

/** `P` is a tick with the pause input; the answer has a frame's number, or what happens. */
function replayed(ticks: string, timing: { open: number; resume: number }, paused = false) {
  const raw = ticks.split('').map((tick) => ({ ticks: 1, held: 0, pause: tick === 'P' }));
  const runs = pauseMachine(raw, { letter: 'P', dwell: 9, ...timing }, paused);
  return [...runs].map(({ frame, edge }) => `${frame ?? '-'}${edge?.charAt(0) ?? ''}`).join(' ');
}

describe('the pause machine', () => {
  test.each<[string, number, number, string]>([
    ['....', 0, 1, '0 1 2 3'],
    ['.P...', 0, 1, '0 -p - - -'],
    ['.P.P..', 0, 1, '0 -p - -u 1 2'],
    ['.P.P..', 0, 0, '0 -p - 1u 2 3'],
    ['.P.P..', 0, 3, '0 -p - -u - -'],
    // Held on, it is one press.
    ['.PPP..', 0, 1, '0 -p - - - -'],
    ['.P.PPP.', 0, 1, '0 -p - -u 1 2 3'],
    // The menu takes no press on its first ticks.
    ['.P.P.P.', 2, 1, '0 -p - -i - -u 1'],
    ['.P.P.', 1, 1, '0 -p - -u 1'],
    ['.P..P.', 2, 1, '0 -p - - -u 1'],
    // A press on the way out of the menu does nothing; on the first frame it pauses.
    ['.P.P.P.', 0, 3, '0 -p - -u - -i 1'],
    ['.P.P.P.', 0, 2, '0 -p - -u - -p -'],
  ])('%s with open %d and resume %d', (ticks, open, resume, all) => {
    expect(replayed(ticks, { open, resume })).toBe(all);
  });

  test('a menu that is open at the start takes a press at once', () => {
    expect(replayed('.P..', { open: 5, resume: 2 }, true)).toBe('- -u - 0');
  });

  test('long stretches are cut where the game changes, not tick by tick', () => {
    const raw = [
      { ticks: 1e12, held: 1, pause: false },
      { ticks: 5, held: 0, pause: true },
      { ticks: 1e12, held: 0, pause: false },
    ];
    const runs = [...pauseMachine(raw, { letter: 'P', open: 0, dwell: 1, resume: 1 })];
    expect(runs.map(({ tick, ticks, runs }) => [tick, ticks, runs])).toEqual([
      [0, 1e12, true],
      [1e12, 1, false],
      [1e12 + 1, 4, false],
      [1e12 + 5, 1e12, false],
    ]);
  });

  test('makes of the inputs of a timeline the frames that the timeline claims', () => {
    fc.assert(
      fc.property(plainCases, ({ game, items }) => {
        const timeline = routeTimeline(notation(items, game));
        const conflicts = analysePause(timeline);
        let frames = 0;
        let agrees = true;
        const { pause } = timeline.game;
        if (pause === undefined) throw new Error('the game has no pause');
        for (const run of pauseMachine(timeline.runs(), pause)) {
          const claimed = timeline.at(run.tick);
          agrees &&= claimed?.runs === run.runs && run.edge !== 'ignored';
          if (run.runs) frames += run.ticks;
        }
        // Where presses are apart, both agree; a conflict is where they do not.
        if (conflicts.length === 0) expect(agrees && frames === timeline.frames).toBe(true);
        else expect(agrees).toBe(false);
      }),
      { numRuns: 1000 },
    );
  });
});

/** The conflicts as text: the reason, the two parts, the tick, how far apart. */
function conflicts(body: string, settings: Settings = {}): string[] {
  return analysePause(timelineOf(body, { pace: '.3', ...settings })).map(
    ({ reason, earlier, later, tick, apart }) => {
      const of = (press: typeof earlier) => {
        const { unit, item } = press?.source ?? {};
        const text = unit?.text.slice(item?.start, item?.end) ?? '';
        return press === undefined ? 'the start' : `${press.part} ${text}`;
      };
      return `${reason} at ${tick}: ${of(earlier)}, ${of(later)}, ${apart} apart`;
    },
  );
}

describe('presses of the pause input that cannot work', () => {
  test.each<[string, string, Settings?]>([
    ['a window of one frame', 'D [D1]-J'],
    ['the zero-frame press before a pause', 'D0-[]'],
    ['a window without frames in a slow menu', '[D0]', { resume: 2 }],
    ['a wait between two pauses', '[] .1 []'],
    ['a pause after the press that left one', '[]-J-[]'],
    ['no pause at all', 'D*1000000000'],
    ['nothing', ''],
  ])('%s is none', (_, body, settings) => {
    expect(conflicts(body, settings)).toEqual([]);
  });

  test('a window that is over before the button is up', () => {
    expect(conflicts('D [D0] U', { resume: 1 })).toEqual([
      'no-up-tick at 8: window D0, window D0, 1 apart',
    ]);
    expect(conflicts('[D1]', { resume: 0 })).toEqual([
      'no-up-tick at 4: window D1, window D1, 1 apart',
    ]);
  });

  test('a window without any tick of its own', () => {
    expect(conflicts('[D0]', { resume: 0 })[0]).toBe(
      'out-of-turn at 3: open [D0], window D0, 3 apart',
    );
  });

  test('a pause on the tick after another ended', () => {
    expect(conflicts('[]-[]')).toEqual(['no-up-tick at 4: close [], open [], 1 apart']);
    expect(conflicts('[]-[]', { resume: 2 })).toEqual([]);
  });

  test('a menu that is still shut', () => {
    expect(conflicts('D []', { open: 4, dwell: 3 })).toEqual([
      'menu-shut at 8: open [], close [], 4 apart',
    ]);
    expect(conflicts('D []', { open: 4, dwell: 4 })).toEqual([]);
    expect(conflicts('[]', { open: 0, dwell: 0 })).toEqual([
      'no-up-tick at 1: open [], close [], 1 apart',
    ]);
  });

  test('each place is named once, at its first time, however often it runs', () => {
    expect(conflicts('D ((J [D0])*1000000)*1000000 [U0]')).toEqual([
      'no-up-tick at 12: window D0, window D0, 1 apart',
      `no-up-tick at ${4 + 1e12 * 15 + 4}: window U0, window U0, 1 apart`,
    ]);
  });

  test('two times of a repeat that touch', () => {
    expect(conflicts('D ([]-J0)*3', { pace: '.0' })).toEqual([
      'no-up-tick at 5: close [], open [], 1 apart',
    ]);
  });

  test('a row that goes on from a menu has to unpause first', () => {
    const { sequence, game } = sequenceOf('[D1]-J');
    const rest = { ...sequence, steps: sequence.steps.slice(1) };
    const open = buildTimeline(rest, game, { startPaused: true });
    const shut = buildTimeline(rest, game);
    if ('tooLong' in open || 'tooLong' in shut) throw new Error('too long');
    expect(analysePause(open)).toEqual([]);
    expect(analysePause(shut).map(({ reason, earlier, tick }) => [reason, earlier, tick])).toEqual([
      ['out-of-turn', undefined, 0],
    ]);
  });

  test('no more than anybody reads', () => {
    expect(conflicts('[D0] '.repeat(300))).toHaveLength(100);
  });
});
