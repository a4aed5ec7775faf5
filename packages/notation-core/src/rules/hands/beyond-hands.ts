import type { Source } from '../../model/steps.js';
import { type Place, rule } from '../rule.js';
import { lettersOf } from '../shape.js';

export const beyondHands = rule({
  name: 'beyond-hands',
  severity: 'warning',
  title: 'Presses faster than hands make them.',
  page: {
    what: 'One input is tapped again, or another one follows with both up between, sooner than hands are taken to manage. Rolls (joined with -) from one input to another, and what a pause parts, are left alone.',
    why: 'Adults tap 55 to 60 times in ten seconds with the index finger (norms of the finger-tapping test, adapted from Halstead and Reitan, fepsy.com/tests/tapping): 6 a second. Struck in turn, two keys are 101 ms or more apart for half of all people (Inputlog copy task, OSF y3p4d, 275,508 intervals; median as computed by others): 10 a second. The limits, 9 taps and 15 switches a second, grant half more for short bursts; that half is an assumption. They are set in tiptoe.json (tapsPerSecond, switchesPerSecond). Fast tapping for long can hurt: take breaks, stop when it hurts, and ask a clinician if it goes on. Whether a leaderboard allows a turbo button is for its rules and moderators to say.',
    bad: 'let hop = J .2 J',
    instead: 'let hop = J .6 J',
  },
  message: ({
    kind,
    letters,
    ticks,
    rate,
    limit,
  }: {
    kind: string;
    letters: string;
    ticks: number;
    rate: string;
    limit: number;
  }) => ({
    title:
      kind === 'taps'
        ? `${letters} is tapped faster than hands can`
        : `${letters} follows faster than hands can`,
    reason: `It goes down ${ticks} ticks after the ${kind === 'taps' ? 'tap' : 'press'} before it: ${rate} a second, and the limit is ${limit}.`,
    wayOut: `Wait longer between them, use a pause, or set ${kind === 'taps' ? 'tapsPerSecond' : 'switchesPerSecond'} in tiptoe.json to what you can do.`,
  }),
  check: {
    rise(walk, report) {
      const { game, limits, all, before, now, floor, onsets, inPause, at, clock } = walk;
      if (inPause) return;
      const fresh = all & ~before;
      let again = 0;
      let soonest = Infinity;
      for (let rest = fresh; rest !== 0; rest &= rest - 1) {
        const bit = rest & -rest;
        const onset = onsets[31 - Math.clz32(bit)] ?? -Infinity;
        if (onset < floor) continue;
        const ticks = now - onset;
        if (ticks <= 0 || clock <= ticks * limits.tapsPerSecond) continue;
        again |= bit;
        soonest = Math.min(soonest, ticks);
      }
      if (again !== 0) {
        const rate = (clock / soonest).toFixed(1);
        const letters = lettersOf(game, again);
        const limit = limits.tapsPerSecond;
        report(placeOf(at), { kind: 'taps', letters, ticks: soonest, rate, limit });
        return;
      }
      const { previous, previousAll, previousNow, gap } = walk;
      if (previous === undefined || gap === 0 || fresh === 0) return;
      // What a hold keeps down plays no part; the rest must be up before the other goes down.
      const released = previousAll & ~(all & before);
      if (released === 0 || (released & all) !== 0) return;
      const ticks = now - previousNow;
      if (ticks <= 0 || clock <= ticks * limits.switchesPerSecond) return;
      const rate = (clock / ticks).toFixed(1);
      const letters = lettersOf(game, fresh);
      const limit = limits.switchesPerSecond;
      report(placeOf(at), { kind: 'switches', letters, ticks, rate, limit });
    },
  },
});

function placeOf({ unit, item }: Source): Place {
  return { unit, start: item.start, end: item.kind === 'hold' ? item.start + 1 : item.end };
}
