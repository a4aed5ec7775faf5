import { problemRule } from '../rule.js';

export const rangeBackwards = problemRule({
  name: 'range-backwards',
  severity: 'error',
  title: 'A range goes from more to less.',
  page: {
    what: 'The first number of a range is above its second.',
    why: 'A range says that every count from the first to the second is meant to work, and here there is none.',
    bad: 'let hop = D4..3',
    instead: 'let hop = D3..4',
    fix: 'Swaps the two numbers. A suggestion: one of them may be the slip.',
  },
  message: ({ written }) => ({
    title: `${written} goes backwards`,
    reason: 'A range begins with its smaller number.',
    wayOut: `Write ${swapped(written)}.`,
  }),
  fixes: ({ start, end, unit }) => {
    const written = unit.text.slice(start, end);
    const text = swapped(written);
    if (text === written) return [];
    return [{ title: `Write ${text}`, safety: 'suggestion', edits: [{ start, end, text }] }];
  },
});

function swapped(written: string): string {
  return written.replace(/([0-9]+(?:\.[0-9]+)?)\.\.([0-9]+(?:\.[0-9]+)?)/, '$2..$1');
}
