import { many, rule } from '../rule.js';

export const pauseOverlap = rule({
  name: 'pause-overlap',
  severity: 'error',
  title: 'Two presses of pause with no tick between them.',
  page: {
    what: 'A window is so short, or a [ follows a ] so closely, that the pause button would have to be up and down on the same tick.',
    why: 'The game acts when the button goes down, so between two presses it has to be up for a tick. A window of n frames has resume + n ticks from press to press and needs 2.',
    bad: 'let hop = D [R1]-[D1]\ngame "Other Kiln" {\n  clock 60\n  settle 4\n  inputs { D = y +1 R = x +1 }\n  pause P { open 4 dwell 8 resume 1 }\n}',
    instead:
      'let hop = D [R1 D1]\ngame "Other Kiln" {\n  clock 60\n  settle 4\n  inputs { D = y +1 R = x +1 }\n  pause P { open 4 dwell 8 resume 1 }\n}',
  },
  message: ({ kind, ticks, resume }: { kind: string; ticks: number; resume: number }) => ({
    title:
      kind === 'window' ? 'This window is too short to be played' : 'This pause comes too soon',
    reason: `From the press that lets the game run to the one that pauses it again ${ticks === 1 ? 'is' : 'are'} ${many(ticks, 'tick')} (resume ${resume}${ticks > resume ? ` and ${many(ticks - resume, 'frame')}` : ''}); the button needs 2 to go up and down.`,
    wayOut:
      kind === 'window'
        ? `Let the window run for ${many(Math.max(1, 2 - resume), 'frame')}${resume < 1 ? '' : ', or take a 0 out of the pause with D0-[ … ]'}.`
        : 'Put the windows of both pauses into one [ ], or wait between them.',
  }),
  inLog: true,
  check: {
    window({ at, frames, pause }, report) {
      const ticks = pause.resume + frames;
      if (ticks >= 2) return;
      const { unit, item } = at;
      const { start, end } = item;
      report({ unit, start, end }, { kind: 'window', ticks, resume: pause.resume });
    },
    open({ at, sinceClose, pause }, report) {
      if (sinceClose >= 2) return;
      const { unit, item } = at;
      const { start } = item;
      report(
        { unit, start, end: start + 1 },
        { kind: 'pause', ticks: sinceClose, resume: pause.resume },
      );
    },
  },
});
