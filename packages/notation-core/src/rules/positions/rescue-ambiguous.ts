import { problemRule } from '../rule.js';

export const rescueAmbiguous = problemRule({
  name: 'rescue-ambiguous',
  severity: 'warning',
  title: 'A rescue that leaves open what to do.',
  page: {
    what: 'Two rescues begin at the same spot of a route, or the spot where a rescue rejoins is claimed more than once.',
    why: 'In the middle of a try nobody can choose: the first rescue is taken, and the first claim.',
    bad: 'spot @dusk "dark"\nseen {\n  @arch : U -> @beam x4\n  @arch : U2 -> @dusk x2\n  @dusk : D -> @beam x4\n}\nroute climb from @arch {\n  U @beam\n}\nrescue @dusk in climb { D } -> @beam\nrescue @dusk in climb { .9 D } -> @beam',
    instead:
      'spot @dusk "dark"\nseen {\n  @arch : U -> @beam x4\n  @arch : U2 -> @dusk x2\n  @dusk : D -> @beam x4\n}\nroute climb from @arch {\n  U @beam\n}\nrescue @dusk in climb { D } -> @beam',
  },
  message: ({ spot, route, reason }) => ({
    title: `the rescue from ${spot} in ${route} is not the only one`,
    reason: `${reason.charAt(0).toUpperCase()}${reason.slice(1)}.`,
    wayOut: 'Keep one.',
  }),
});
