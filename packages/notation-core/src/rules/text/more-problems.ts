import { problemRule } from '../rule.js';

export const moreProblems = problemRule({
  name: 'more-problems',
  severity: 'error',
  fixed: true,
  title: 'A declaration has more problems than are listed.',
  page: {
    what: 'One declaration has so many findings that the rest of them are not listed.',
    why: 'Often one slip causes them all; a list of thousands would hide it.',
    bad: `let hop = ${'% '.repeat(101)}D`,
    instead: 'let hop = D',
  },
  message: ({ listed }) => ({
    title: 'There is more to find in this declaration',
    reason: `Only ${listed} findings of one declaration are listed.`,
    wayOut: 'Mend the first of them and check again.',
  }),
});
