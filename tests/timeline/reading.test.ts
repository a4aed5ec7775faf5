import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { CompressedTimeline } from '@core/timeline/timeline.js';
import type { TimelineNode } from '@core/timeline/nodes.js';
import { buildTimeline } from '@core/timeline/build.js';
import type { Run, Timeline } from '@core/timeline/types.js';
import { notation } from '../support/plain-notation.js';
import { plainCases } from '../support/plain-sequences.js';
import { routeTimeline, sequenceOf, timelineOf } from '../support/timelines.js';

const cases = plainCases.map(({ game, items }) => routeTimeline(notation(items, game)));

/** How many different nodes there are. */
function nodesOf(timeline: Timeline): number {
  if (!(timeline instanceof CompressedTimeline)) throw new Error('no nodes to count');
  const seen = new Set<TimelineNode>();
  const stack = timeline.root === undefined ? [] : [timeline.root];
  for (let node = stack.pop(); node !== undefined; node = stack.pop()) {
    if (seen.has(node)) continue;
    seen.add(node);
    if (node.kind === 'block') stack.push(...node.children);
  }
  return seen.size;
}

describe('reading a timeline', () => {
  test('the stretches tile it, and their frames count up', () => {
    fc.assert(
      fc.property(cases, (timeline) => {
        let tick = 0;
        let frame = 0;
        for (const run of timeline.runs()) {
          expect(run.tick).toBe(tick);
          expect(run.ticks).toBeGreaterThan(0);
          expect(run.frame).toBe(run.runs ? frame : undefined);
          tick += run.ticks;
          if (run.runs) frame += run.ticks;
        }
        expect([tick, frame]).toEqual([timeline.ticks, timeline.frames]);
      }),
    );
  });

  test('any tick by itself is the stretch that streaming gives', () => {
    fc.assert(
      fc.property(cases, (timeline) => {
        for (const run of timeline.runs()) {
          for (const tick of [run.tick, run.tick + run.ticks - 1]) {
            expect(timeline.at(tick)).toEqual(run);
          }
        }
      }),
    );
  });

  test('a window is the whole, cut', () => {
    fc.assert(
      fc.property(cases, fc.nat(), fc.nat(), (timeline, a, b) => {
        const from = a % (timeline.ticks + 1);
        const to = from + (b % (timeline.ticks + 1 - from));
        const cut: Run[] = [];
        for (const run of timeline.runs()) {
          const first = Math.max(from, run.tick);
          const ticks = Math.min(to, run.tick + run.ticks) - first;
          const frame = run.frame === undefined ? undefined : run.frame + first - run.tick;
          if (ticks > 0) cut.push({ ...run, tick: first, ticks, frame });
        }
        expect([...timeline.runs(from, to)]).toEqual(cut);
      }),
    );
  });

  test('a visit sees what the iterator gives, and ends when it is told to', () => {
    fc.assert(
      fc.property(cases, fc.nat({ max: 20 }), (timeline, most) => {
        const runs = [...timeline.runs(1)];
        const seen: Run[] = [];
        const whole = timeline.visit(
          1,
          Infinity,
          (tick, ticks, frame, held, pause, part, source) => {
            const at = frame < 0 ? undefined : frame;
            seen.push({ tick, ticks, frame: at, runs: frame >= 0, held, pause, part, source });
            return seen.length <= most;
          },
        );
        expect(whole).toBe(runs.length <= most);
        expect(seen).toEqual(runs.slice(0, most + 1));
      }),
    );
  });

  test.each([
    [-5, 2, 2],
    [0.9, 2.9, 2],
    [3, 3, 0],
    [4, 2, 0],
    [6, 100, 1],
    [7, 100, 0],
    [NaN, NaN, 0],
    [-Infinity, Infinity, 7],
  ])('the window from %d to %d has %d ticks of seven', (from, to, ticks) => {
    const runs = [...timelineOf('(D-U)*3 J', { pace: '.0' }).runs(from, to)];
    expect(runs.reduce((sum, run) => sum + run.ticks, 0)).toBe(ticks);
  });

  test.each([-1, 7, NaN, Infinity])('there is no tick %d', (tick) => {
    expect(timelineOf('D7').at(tick)).toBeUndefined();
  });

  test('nothing at all has no ticks', () => {
    const nothing = timelineOf('');
    expect([nothing.ticks, nothing.frames, [...nothing.runs()].length]).toEqual([0, 0, 0]);
    expect(nothing.at(0)).toBeUndefined();
  });
});

describe('where a stretch comes from', () => {
  test('part and source of every tick', () => {
    const timeline = timelineOf('D .1 [U1-L1]-J (R ~)', { settle: 2 });
    const parts = [...timeline.runs()].map(({ part, ticks, source, pause }) => {
      const text = source?.unit.text.slice(source.item.start, source.item.end);
      return `${part}${ticks}${pause ? ' P' : ''} ${text ?? '-'}`;
    });
    const pause = '[U1-L1]';
    expect(parts).toEqual([
      ...['press1 D', 'wait1 .1', `open1 P ${pause}`, `open2 ${pause}`],
      ...['window1 P U1', 'window1 U1', 'window1 L1', 'window1 P L1', 'window2 L1'],
      ...[`close1 P ${pause}`, 'press1 J', 'pace2 -', 'press1 R', 'wait2 ~'],
    ]);
  });

  test('with `resume 0` the tick that unpauses belongs to the window, and to ]', () => {
    const runs = [...timelineOf('[U2]-J2', { resume: 0 }).runs()];
    expect(runs.map(({ part, ticks, runs }) => `${part}${ticks}${runs ? '' : "'"}`)).toEqual([
      ...["open1'", "open2'", 'window1', 'window1', "window1'", "window2'", 'close1', 'press1'],
    ]);
  });
});

describe('the size of a timeline goes with the text', () => {
  test('a million million presses, any of them, and a stretch of them', () => {
    const timeline = timelineOf('((((D*1000)*1000)*1000)*1000)', { settle: 3 });
    expect(nodesOf(timeline)).toBeLessThan(20);
    expect(timeline.ticks).toBe(4e12 - 3);
    const at = timeline.at(999_999_999_999);
    expect([at?.tick, at?.ticks, at?.part, at?.frame]).toEqual([999_999_999_997, 3, 'pace', 999_999_999_997]); // prettier-ignore
    const window = [...timeline.runs(3_999_999_999_990, 3_999_999_999_994)];
    expect(window.map(({ tick, ticks, part }) => [tick, ticks, part])).toEqual([
      [3_999_999_999_990, 2, 'pace'],
      [3_999_999_999_992, 1, 'press'],
      [3_999_999_999_993, 1, 'pace'],
    ]);
    const last = [...timeline.runs(4e12 - 4)].map(({ part }) => part);
    expect(last).toEqual(['press']);
  });

  test('ticks near the largest count are found exactly', () => {
    const most = 3002399751580330; // 3 ticks each: 2^53 - 2 in all
    const timeline = timelineOf(`(D-U-.1)*${most}`, { pace: '.0' });
    expect(timeline.ticks).toBe(3 * most);
    for (let back = 1; back <= 12; back++) {
      const tick = timeline.ticks - back;
      expect(timeline.at(tick)?.tick).toBe(tick);
      expect(timeline.at(tick)?.held).toBe([0, 2, 1][(back - 1) % 3]);
      expect([...timeline.runs(tick, tick + 1)][0]?.held).toBe([0, 2, 1][(back - 1) % 3]);
    }
  });

  /** Phrases that each use the one before twice. */
  function doubling(first: string, next: (name: string, i: number) => string, levels: number) {
    const lines = [`let a0 = ${first}`];
    for (let i = 1; i <= levels; i++) lines.push(`let a${i} = ${next(`a${i - 1}`, i)}`);
    return lines.join('\n');
  }

  test('phrases in phrases are built once for each thing that can stand beside them', () => {
    const lets = doubling('D-[D1]-J ~ U', (name) => `${name} ${name}`, 40);
    const timeline = timelineOf('a40', { settle: 3, lets });
    expect(nodesOf(timeline)).toBeLessThan(600);
    const small = timelineOf('a0 a0', { settle: 3, lets });
    const pair = timelineOf('a1', { settle: 3, lets });
    expect([...pair.runs()]).toEqual([...small.runs()]);
    const gap = small.ticks - 2 * timelineOf('a0', { settle: 3, lets }).ticks;
    const one = (small.ticks - gap) / 2;
    expect(timeline.ticks).toBe(2 ** 40 * one + (2 ** 40 - 1) * gap);
  });

  test('and so are phrases within holds, joined to each other', () => {
    const letters = ['L', 'R', 'S'];
    const lets = doubling(
      'D-[D1]-J U .1 ~',
      (name, i) => `${name} ${letters[i % 3] ?? ''}&(pace .1 ${name}) D-${name} [U1]-${name}`,
      24,
    );
    const timeline = timelineOf('a24', { settle: 3, lets });
    expect(nodesOf(timeline)).toBeLessThan(10_000);
  });

  test('too long is said at once, however many phrases lie between', () => {
    const lets = doubling('D', (name) => `${name} ${name}`, 60);
    const { sequence, game } = sequenceOf('a60', { settle: 3, lets });
    expect(buildTimeline(sequence, game)).toEqual({ tooLong: true, limit: 2 ** 53 - 1 });
  });

  test('a body used between many different neighbours', () => {
    const letters = ['D', 'U', 'L', 'R', 'J', 'S'];
    const chords = Array.from({ length: 63 }, (_, i) =>
      letters.filter((_, bit) => Math.floor((i + 1) / 2 ** bit) % 2 === 1).join(''),
    );
    const lets = 'let blink = [.1]';
    const body = chords.map((chord) => `${chord}-blink-${chord}`).join(' ');
    const plain = chords.map((chord) => `${chord}-[.1]-${chord}`).join(' ');
    const held = (text: string) =>
      [...timelineOf(text, { pace: '.1', lets }).runs()].map((run) => run.held);
    expect(held(`${body} ${body}`)).toEqual(held(`${plain} ${plain}`));
  });
});
