import { problemRule } from '../rule.js';

export const nestedTooDeep = problemRule({
  name: 'nested-too-deep',
  severity: 'error',
  fixed: true,
  title: 'Brackets stand too deep inside brackets.',
  page: {
    what: 'More brackets are open at once than the notation takes.',
    why: 'The limit keeps any text from exhausting the machine; no setup that is played comes near it.',
    bad: `let hop = ${'('.repeat(201)}D${')'.repeat(201)}`,
    instead: 'let hop = ((D))',
  },
  message: ({ limit }) => ({
    title: 'Too many brackets inside one another',
    reason: `This one would be more than ${limit} deep, which is the limit.`,
    wayOut: 'Give the inner part a name with let, and write the name.',
  }),
});
