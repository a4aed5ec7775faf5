import { problemRule } from '../rule.js';

export const useNotFound = problemRule({
  name: 'use-not-found',
  severity: 'error',
  title: 'A used file cannot be read.',
  page: {
    what: 'A use names a file that is not there or cannot be read.',
    why: 'Its inputs, phrases and spots are unknown, so nothing that needs them can be checked.',
    bad: 'use "kilm.tiptoe"\nuse "kiln.tiptoe"',
    instead: 'use "kiln.tiptoe"',
  },
  message: ({ path, reason }) => ({
    title: `"${path}" cannot be used`,
    reason: `${reason.charAt(0).toUpperCase()}${reason.slice(1)}.`,
    wayOut: 'Write the path from this file to the other one, with / between folders.',
  }),
});
