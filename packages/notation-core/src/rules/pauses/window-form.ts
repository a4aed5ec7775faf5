import { problemRule } from '../rule.js';

export const windowForm = problemRule({
  name: 'window-form',
  severity: 'error',
  title: 'A window is joined of more than presses and waits.',
  page: {
    what: 'Inside [ ] a group, a phrase, a hold or a repeat is joined to another item with -.',
    why: 'What is joined is one window, from unpause to pause; a group or a repeat would be several.',
    bad: 'let hop = D [R1-D1*2]',
    instead: 'let hop = D [R1-D2]',
  },
  message: ({ written }) => ({
    title: `${written} cannot be a part of a window`,
    reason: 'A window is joined of presses and waits, each with its count.',
    wayOut:
      'Write the presses out with - between them, or take the - away for windows of their own.',
  }),
});
