import { problemRule } from '../rule.js';

export const useCycle = problemRule({
  name: 'use-cycle',
  severity: 'error',
  title: 'Files use one another in a circle.',
  page: {
    what: 'A file uses another one that, directly or through others, uses it.',
    why: 'Which names come first would depend on the file that is opened. Each file is read once all the same.',
    bad: 'use "note.tiptoe"\nlet hop = D3 R',
    instead: 'let hop = D3 R',
  },
  message: ({ path, circle }) => ({
    title: `Using "${path}" closes a circle`,
    reason: `The files use one another: ${circle}.`,
    wayOut: 'Take this use away, or move what both need to a file of its own.',
  }),
});
