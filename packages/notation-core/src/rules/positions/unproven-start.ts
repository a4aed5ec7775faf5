import { problemRule } from '../rule.js';

export const unprovenStart = problemRule({
  name: 'unproven-start',
  severity: 'warning',
  title: 'A route starts from a spot of which the log knows nothing.',
  page: {
    what: 'A spot of from has no row in the log, and lies on no ground.',
    why: 'Nothing that the route does from there is proved.',
    bad: 'spot @dusk\nseen { @arch : U -> @beam x4 }\nroute climb from @dusk {\n  .4\n}',
    instead: 'seen { @arch : U -> @beam x4 }\nroute climb from @arch {\n  .4\n}',
  },
  message: ({ spot }) => ({
    title: `nothing is logged from ${spot}`,
    reason: 'No row of seen begins there, and it has no place on a ground.',
    wayOut: `Log what you try: seen { ${spot} : U -> @somewhere }.`,
  }),
});
