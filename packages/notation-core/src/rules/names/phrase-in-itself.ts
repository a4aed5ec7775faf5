import { problemRule } from '../rule.js';

export const phraseInItself = problemRule({
  name: 'phrase-in-itself',
  severity: 'error',
  title: 'A phrase contains itself.',
  page: {
    what: 'A phrase names itself, directly or through other phrases.',
    why: 'It would never end.',
    bad: 'let hop = D3 hop',
    instead: 'let hop = D3 R\nlet hops = hop*2',
  },
  message: ({ circle }) => ({
    title: 'This phrase would never end',
    reason: `It contains itself: ${circle}.`,
    wayOut: 'Take the name out of the circle, or repeat the phrase with *.',
  }),
});
