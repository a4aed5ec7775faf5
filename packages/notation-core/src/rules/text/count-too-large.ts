import { problemRule } from '../rule.js';

export const countTooLarge = problemRule({
  name: 'count-too-large',
  severity: 'error',
  fixed: true,
  title: 'A number is larger than numbers are exact.',
  page: {
    what: 'A count is above 9007199254740991, the largest up to which every whole number is exact.',
    why: 'Beyond it two different counts would be the same number, and a table would be wrong by frames without saying so.',
    bad: 'let hop = D99999999999999999999',
    instead: 'let hop = D9000000000000000',
  },
  message: ({ written, limit }) => ({
    title: `${written} is too large`,
    reason: `Counts are exact up to ${limit}.`,
    wayOut: `Write a count of at most ${limit}.`,
  }),
});
