import { problemRule } from '../rule.js';

export const nestedPause = problemRule({
  name: 'nested-pause',
  severity: 'error',
  title: 'A pause inside a pause.',
  page: {
    what: 'A [ ] stands inside another [ ].',
    why: 'The game is paused already; each item inside [ ] lets it run for its frames and pauses it again.',
    bad: 'let hop = D [R1 [D1]]',
    instead: 'let hop = D [R1 D1]',
  },
  message: ({ written }) => ({
    title: 'The game is paused already',
    reason: `${written} stands inside another [ ], where every item pauses again by itself.`,
    wayOut: 'Take the inner brackets away.',
  }),
});
