import { problemRule } from '../rule.js';

export const settleMisplaced = problemRule({
  name: 'settle-misplaced',
  severity: 'error',
  title: 'A ~ where nothing can settle.',
  page: {
    what: 'A ~, or a pace of ~, stands inside D&( ) or inside [ ].',
    why: 'Movement settles on frames that hold nothing. Inside a hold every frame holds something, and inside a pause no frame runs between two windows.',
    bad: 'let hop = D&(J ~ J)',
    instead: 'let hop = D&(J .6 J)',
  },
  message: ({ where, written }) => ({
    title: written ? 'Nothing can settle here' : 'The pace here would be ~, and nothing can settle',
    reason:
      where === 'hold'
        ? 'A hold is down on every frame of its group, so no frame is neutral.'
        : 'Inside [ ] frames run only in windows, and the game waits between them by itself.',
    wayOut:
      where === 'hold'
        ? 'Write a wait such as .4 between the items, or set a pace in the group: pace .4.'
        : where === 'pace'
          ? 'Take the pace away: between windows stands the dwell of the pause.'
          : 'Write a window that waits, such as .6, or take it away.',
  }),
});
