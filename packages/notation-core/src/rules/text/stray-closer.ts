import { problemRule } from '../rule.js';

const OPENERS: Readonly<Record<string, string>> = { ')': '(', ']': '[', '}': '{' };

export const strayCloser = problemRule({
  name: 'stray-closer',
  severity: 'error',
  fixed: true,
  title: 'A ), ] or } closes nothing.',
  page: {
    what: 'A closing bracket stands where none of its kind is open.',
    why: 'Either it is too much, or the bracket that it should close is missing, and then other items belong together than you meant.',
    bad: 'let hop = D3 R)*2',
    instead: 'let hop = (D3 R)*2',
  },
  message: ({ written }) => {
    const opener = OPENERS[written] ?? 'its opening bracket';
    return {
      title: `${written} closes nothing`,
      reason: `No ${opener} is open where this ${written} stands.`,
      wayOut: `Take the ${written} away, or write ${opener} where it should begin.`,
    };
  },
});
