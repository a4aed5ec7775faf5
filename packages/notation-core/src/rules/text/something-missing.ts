import { problemRule } from '../rule.js';

export const somethingMissing = problemRule({
  name: 'something-missing',
  severity: 'error',
  fixed: true,
  title: 'A part of a declaration is missing.',
  page: {
    what: 'A declaration, a row or an item lacks a part that it has to have.',
    why: 'What is there was read, but without the part it says nothing that could be checked.',
    bad: 'route { D3 R }',
    instead: 'route crossing { D3 R }',
  },
  message: ({ what, after }) => ({
    title: `Something is missing behind ${after}`,
    reason: `Here should stand ${what}.`,
    wayOut: `Write ${what}.`,
  }),
});
