import { problemRule } from '../rule.js';

export const holdForm = problemRule({
  name: 'hold-form',
  severity: 'error',
  fixed: true,
  title: 'A hold is not written D&( … ).',
  page: {
    what: 'A hold is inputs without a count, &, and a group: D&(.4 J .3).',
    why: 'The input is down for the whole of the group, so the group says how long, and a count would say it again.',
    bad: 'let hop = D4&(.4 J .3)',
    instead: 'let hop = D&(.4 J .3)',
  },
  message: ({ written, inputs }) => ({
    title: `${written} is not how a hold is written`,
    reason: 'A hold lasts as long as its group: inputs without a count, then & and ( right behind.',
    wayOut: `Write ${inputs}&( … ) with what happens meanwhile inside the brackets.`,
  }),
});
