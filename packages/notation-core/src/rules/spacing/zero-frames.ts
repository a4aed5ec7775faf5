import { problemRule } from '../rule.js';

export const zeroFrames = problemRule({
  name: 'zero-frames',
  severity: 'error',
  title: 'A press, a wait or a repeat of nothing.',
  page: {
    what: 'A count is 0 where it has no meaning. It has one inside [ ], and for a press that is joined to a [ (D0-[): it goes down on the very tick that pauses.',
    why: 'A press of 0 frames is never read by the game.',
    bad: 'let hop = D0 R',
    instead: 'let hop = D R',
  },
  message: ({ written, kind }) => ({
    title: `${written} does nothing`,
    reason:
      kind === 'repeat'
        ? 'It repeats the item no times.'
        : kind === 'press'
          ? 'A press of 0 frames is never read; only one that is joined to a [ can be that short.'
          : 'A wait of 0 ticks is no wait, but it would take the place of the pace.',
    wayOut:
      kind === 'repeat'
        ? 'Write a number from 1 on, or take the item away.'
        : kind === 'press'
          ? 'Write a count from 1 on, or join it to the pause behind it with -.'
          : 'Write a number from 1 on, or join the items beside it with -.',
  }),
});
