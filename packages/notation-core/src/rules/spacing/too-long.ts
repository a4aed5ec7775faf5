import { problemRule } from '../rule.js';

export const tooLong = problemRule({
  name: 'too-long',
  severity: 'error',
  title: 'A sequence is longer than numbers are exact.',
  page: {
    what: 'Presses, waits and repeats add up to more than 9007199254740991 ticks.',
    why: 'Beyond it ticks can no longer be told apart exactly, so there is no table.',
    bad: 'route crossing { (D*4000000000000000)*3 }',
    instead: 'route crossing { (D*4000)*3 }',
  },
  message: ({ limit }) => ({
    title: 'This is longer than numbers are exact',
    reason: `Its ticks are more than ${limit}.`,
    wayOut: 'Write smaller counts.',
  }),
});
