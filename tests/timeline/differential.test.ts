import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type ModelProblem, collector } from '@core/model/problems.js';
import { programOf } from '@core/model/program.js';
import { Resolver } from '@core/model/resolve.js';
import { scopeOf } from '@core/model/scope.js';
import { buildTimeline } from '@core/timeline/build.js';
import type { Run, Timeline } from '@core/timeline/types.js';
import { type PlainTick, expand, overlaps, replay } from '../support/plain-expansion.js';
import { notation } from '../support/plain-notation.js';
import { plainCases } from '../support/plain-sequences.js';

/** The tick as text, so that a difference reads as one: the inputs, `P` for pause, the frame. */
function shown(held: Iterable<string>, pause: boolean, frame: number | undefined): string {
  return `${[...held].sort().join('')}${pause ? ' P' : ''} ${frame ?? 'paused'}`;
}

function plainRows(ticks: readonly PlainTick[]): string[] {
  let frame = 0;
  return ticks.map(({ held, pause, runs }) => shown(held, pause, runs ? frame++ : undefined));
}

function letters(run: Run, timeline: Timeline): string[] {
  return timeline.game.inputs
    .filter((input) => Math.floor(run.held / 2 ** input.index) % 2 === 1)
    .map((input) => input.letter);
}

function productRows(timeline: Timeline, from?: number, to?: number): string[] {
  const rows: string[] = [];
  let next = from ?? 0;
  for (const run of timeline.runs(from, to)) {
    const sound = run.tick === next && run.ticks > 0 && (run.frame !== undefined) === run.runs;
    if (!sound) throw new Error(`a stretch that cannot be at ${next}: ${JSON.stringify(run)}`);
    for (let i = 0; i < run.ticks; i++) {
      const frame = run.frame === undefined ? undefined : run.frame + i;
      rows.push(shown(letters(run, timeline), run.pause, frame));
    }
    next += run.ticks;
  }
  return rows;
}

function timelineOf(text: string): { timeline: Timeline; problems: ModelProblem[] } {
  const program = programOf(text);
  const problems: ModelProblem[] = [];
  for (const file of program.files.values()) {
    const resolver = new Resolver(scopeOf(program, file));
    for (const { unit } of file.tree.units) {
      expect(unit.problems, unit.text).toEqual([]);
      const { declaration } = unit;
      if (declaration.kind !== 'route') continue;
      const sequence = resolver.resolve(declaration.body, unit, collector(problems));
      const timeline = buildTimeline(sequence, resolver.game);
      if ('tooLong' in timeline) throw new Error(`too long: ${text}`);
      return { timeline, problems };
    }
  }
  throw new Error('the note has no route');
}

describe('the plain expansion itself', () => {
  test('gives the worked example of the reference', () => {
    const game = {
      clock: '30',
      settle: 3,
      pace: undefined,
      pause: { open: 2, dwell: 3, resume: 1 },
    };
    const ticks = expand(
      [
        { kind: 'press', held: 'D', n: 1 },
        {
          kind: 'joined',
          items: [
            {
              kind: 'pause',
              windows: [{ kind: 'window', parts: [{ held: 'D', n: 1 }] }],
            },
            { kind: 'press', held: 'J', n: 1 },
          ],
        },
        { kind: 'wait', n: 2 },
      ],
      game,
    );
    // Section 4 of the language reference, the table under its worked example.
    const dwell = [' paused', ' paused', ' paused'];
    expect(plainRows(ticks)).toEqual([
      ...['D 0', ' 1', ' 2', ' 3', ' P paused', ...dwell, 'D P paused', 'D 4'],
      ...['D P paused', ...dwell, 'J P paused', 'J 5', ' 6', ' 7'],
    ]);
  });

  test('replays the pause input to the frames that it expanded to, where presses are apart', () => {
    fc.assert(
      fc.property(plainCases, ({ game, items }) => {
        const ticks = expand(items, game);
        if (overlaps(ticks, game.pause.open)) return;
        const pause = ticks.map((tick) => tick.pause);
        expect(replay(pause, game.pause)).toEqual(ticks.map((tick) => tick.runs));
      }),
      { numRuns: 4000 },
    );
  });
});

describe('the timeline agrees with the plain expansion', () => {
  test('on the worked example', () => {
    const { timeline } = timelineOf(
      'game "g" { clock 30 settle 3 inputs { D = y +1 J = jump }\n' +
        'pause P { open 2 dwell 3 resume 1 } }\nroute r { D [D1]-J .2 }',
    );
    expect([timeline.ticks, timeline.frames]).toEqual([18, 8]);
    const frames = productRows(timeline).map((row) => row.split(' ').at(-1));
    expect(frames.filter((frame) => frame !== 'paused')).toEqual(Array.from('01234567'));
  });

  test('on thousands of sequences over games of every kind', () => {
    fc.assert(
      fc.property(plainCases, ({ game, items }) => {
        const text = notation(items, game);
        const rows = plainRows(expand(items, game));
        const { timeline, problems } = timelineOf(text);
        expect(problems, text).toEqual([]);
        expect(timeline.ticks, text).toBe(rows.length);
        expect(timeline.frames, text).toBe(rows.filter((row) => !row.endsWith('paused')).length);
        expect(productRows(timeline), text).toEqual(rows);
      }),
      { numRuns: 10_000 },
    );
  });

  test('on any window and any single tick', () => {
    const point = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(plainCases, point, point, ({ game, items }, a, b) => {
        const text = notation(items, game);
        const rows = plainRows(expand(items, game));
        const { timeline } = timelineOf(text);
        const [from = 0, to = 0] = [a, b]
          .map((part) => Math.min(rows.length, Math.floor(part * (rows.length + 1))))
          .sort((x, y) => x - y);
        expect(productRows(timeline, from, to), text).toEqual(rows.slice(from, to));
        const run = timeline.at(from);
        if (from === rows.length) expect(run).toBeUndefined();
        else {
          const { tick = 0, frame, pause = false } = run ?? {};
          expect(run).toBeDefined();
          const at = frame === undefined ? undefined : frame + from - tick;
          expect(run && shown(letters(run, timeline), pause, at), text).toBe(rows[from]);
        }
      }),
      { numRuns: 4000 },
    );
  });
});
