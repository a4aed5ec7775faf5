import { problemRule } from '../rule.js';

export const singleSighting = problemRule({
  name: 'single-sighting',
  severity: 'note',
  title: 'A route stands on a row that was seen once.',
  page: {
    what: 'A route is followed along a row of the log with a count of 1.',
    why: 'What was seen once may have been a slip of the hand. It is said once for each row, at the first item that needs it.',
    bad: 'seen { @arch : U -> @beam }\nroute climb from @arch to @beam {\n  U\n}',
    instead: 'seen { @arch : U -> @beam x2 }\nroute climb from @arch to @beam {\n  U\n}',
  },
  message: ({ from, items, to }) => ({
    title: `${items} from ${from} to ${to} was seen once`,
    reason: 'The route is followed along this row.',
    wayOut: 'Try it again, and count what you see: x2.',
  }),
});
