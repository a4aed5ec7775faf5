import { problemRule } from '../rule.js';

export const chooseMisplaced = problemRule({
  name: 'choose-misplaced',
  severity: 'error',
  title: 'A choose where no player can choose.',
  page: {
    what: 'A choose stands in a row of the log, on a ground, or inside [ ].',
    why: 'A row says what was pressed, once; and inside a pause a choice would be made within a window.',
    bad: 'seen { @vent : choose end { fast { D } } -> @shaft }',
    instead: 'seen { @vent : D -> @shaft }',
  },
  message: ({ where }) => ({
    title: 'No choice can be made here',
    reason: `Inside ${where} stands one way only.`,
    wayOut: 'Write the items of the way that is meant.',
  }),
});
