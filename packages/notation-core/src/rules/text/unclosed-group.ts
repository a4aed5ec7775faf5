import { problemRule } from '../rule.js';

export const unclosedGroup = problemRule({
  name: 'unclosed-group',
  severity: 'error',
  fixed: true,
  title: 'A ( has no ).',
  page: {
    what: 'A group or a hold is opened with ( and nothing closes it.',
    why: 'Where the group ends decides what is repeated or held, and how far a pace reaches.',
    bad: 'route crossing { (D3 R*2 }',
    instead: 'route crossing { (D3 R)*2 }',
  },
  message: () => ({
    title: 'A group opened here is never closed',
    reason: 'Its declaration, or the bracket around it, ends before a ) stands behind this (.',
    wayOut: 'Write ) behind the last item of the group.',
  }),
});
