import { problemRule } from '../rule.js';

export const oddWord = problemRule({
  name: 'odd-word',
  severity: 'error',
  fixed: true,
  title: 'Letters and digits are mixed in a way that is neither a press nor a name.',
  page: {
    what: 'A press is capital letters with one count behind them (DR3); a name is small letters, digits and _ (long_way). This is neither.',
    why: 'Two presses without a space or a - between would not say whether a pace stands between them.',
    bad: 'let hop = D3R2',
    instead: 'let hop = D3-R2',
    fix: 'Writes the nearest form that can be read. A suggestion: a space in the place of - means something else.',
  },
  message: ({ written, instead }) => ({
    title: `${written} is neither a press nor a name`,
    reason:
      'A press is capital letters and then its count, such as DR3; a name is written in small letters.',
    wayOut:
      instead === ''
        ? 'Write a press such as DR3, or a name such as long_way.'
        : `Write ${instead}${instead.includes('-') ? `, or ${instead.replaceAll('-', ' ')} with the pace between` : ''}.`,
  }),
  fixes: ({ start, end }, { instead }) =>
    instead === ''
      ? []
      : [
          {
            title: `Write ${instead}`,
            safety: 'suggestion',
            edits: [{ start, end, text: instead }],
          },
        ],
});
