import { many, rule } from '../rule.js';
import type { Walk } from '../walk.js';

export const cueMissing = rule({
  name: 'cue-missing',
  severity: 'note',
  title: 'Nothing on screen tells how many frames have run.',
  page: {
    what: 'A game declares cues, and a pause ends its window after a number of frames since the press for which there is none.',
    why: 'While the game is paused, a cue is how a player sees that the window came out as it should. Without one a slip is noticed later, if at all.',
    bad: 'let hop = D [R3]',
    instead: 'let hop = D [R2]',
  },
  message: ({ frames }: { frames: number }) => ({
    title: `Nothing tells ${many(frames, 'frame')} here`,
    reason: `The game is paused ${many(frames, 'frame')} after the press, and it declares no cue ${frames}.`,
    wayOut: `Declare cue ${frames} "what it looks like" in the game, or use shorter windows.`,
  }),
  check: {
    window(walk, report) {
      check(walk, report);
    },
    open(walk, report) {
      check(walk, report, 1);
    },
  },
});

/** Where a press goes on through a pause, its frames count from its beginning or from the window's. */
function check(
  { game, at, sincePress, pressAlone }: Walk,
  report: (
    place: { unit: Walk['at']['unit']; start: number; end: number },
    params: { frames: number },
  ) => void,
  length?: number,
): void {
  if (game.cues.size === 0 || !(sincePress >= 0)) return;
  if (game.cues.has(sincePress) || game.cues.has(pressAlone)) return;
  const { unit, item } = at;
  const { start, end } = item;
  const to = length === undefined ? end : start + length;
  report({ unit, start, end: to }, { frames: pressAlone });
}
