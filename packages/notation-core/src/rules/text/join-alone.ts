import { problemRule } from '../rule.js';

export const joinAlone = problemRule({
  name: 'join-alone',
  severity: 'error',
  fixed: true,
  title: 'A - has nothing to join.',
  page: {
    what: 'A - stands at an end of a sequence, or beside another -.',
    why: 'It joins two items so that no tick passes between them; with one item there is nothing to join.',
    bad: 'let hop = D3-R2-',
    instead: 'let hop = D3-R2',
  },
  message: ({ side }) => ({
    title: 'This - joins nothing',
    reason: `No item that can be joined stands ${side === 'before' ? 'in front of' : 'behind'} it.`,
    wayOut: `Take the - away, or write the item ${side === 'before' ? 'in front of' : 'behind'} it.`,
  }),
});
