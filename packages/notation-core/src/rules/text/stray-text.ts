import { problemRule } from '../rule.js';

export const strayText = problemRule({
  name: 'stray-text',
  severity: 'error',
  fixed: true,
  title: 'Something cannot stand where it does.',
  page: {
    what: 'A word or a sign stands where the notation has no place for it.',
    why: 'It was left out, so the declaration means less than what is written.',
    bad: 'let hop = D3 % R',
    instead: 'let hop = D3 R',
  },
  message: ({ written, instead }) => {
    const [line = ''] = written.split(/[\r\n]/);
    return {
      title: `${line === '' ? 'This' : line} cannot stand here`,
      reason: `What can stand here is ${instead}.`,
      wayOut: 'Take it away, or write what you meant in the form above.',
    };
  },
});
