import { problemRule } from '../rule.js';

export const spacingUnknown = problemRule({
  name: 'spacing-unknown',
  severity: 'error',
  title: 'A space has no length.',
  page: {
    what: 'Two items stand with a space between them, and neither the game nor the sequence says what a space means.',
    why: 'Without a pace a table would have to guess the ticks between them.',
    bad: 'game "Other Kiln" {\n  clock 60\n  inputs { D = y +1 }\n}\nlet hop = D3 D',
    instead: 'game "Other Kiln" {\n  clock 60\n  inputs { D = y +1 }\n}\nlet hop = D3 .5 D',
  },
  message: ({ before, after }) => ({
    title: 'How long is the space here?',
    reason: `Between ${before === '' ? 'the item before' : before} and ${after} stands a space, and no pace is in force.`,
    wayOut: `Write a wait, such as .5, between them, join them with -, or give the game a pace.`,
  }),
});
