import { problemRule } from '../rule.js';

export const unclosedText = problemRule({
  name: 'unclosed-text',
  severity: 'error',
  fixed: true,
  title: 'A text in quotes is not closed on its line.',
  page: {
    what: 'A text begins with a double quote and its line ends before the second one.',
    why: 'A text never goes on to the next line, so everything up to the end of the line was taken as text, items included.',
    bad: 'route crossing "Over the vents { D3 R }',
    instead: 'route crossing "Over the vents" { D3 R }',
  },
  message: () => ({
    title: 'A text opened here is never closed',
    reason:
      'A text in quotes ends on the line on which it began, and no second " stands on this one.',
    wayOut: 'Write " where the text ends; a quote inside the text is written \\".',
  }),
});
