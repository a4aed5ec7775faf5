import { problemRule } from '../rule.js';

export const unclosedBlock = problemRule({
  name: 'unclosed-block',
  severity: 'error',
  fixed: true,
  title: 'A { has no }.',
  page: {
    what: 'The block of a declaration, a choose or a way is opened with { and nothing closes it.',
    why: 'The next declaration ends the block all the same, so the rest of the note is read as it stands; but items may be missing or in the wrong block.',
    bad: 'route crossing {\n  D3 R\n\nlet hop = J',
    instead: 'route crossing {\n  D3 R hop\n}\n\nlet hop = J',
  },
  message: ({ what }) => ({
    title: `The block of this ${what} is never closed`,
    reason: 'The file, or the next declaration, comes before a } stands behind this {.',
    wayOut: `Write } at the end of the ${what}.`,
  }),
});
