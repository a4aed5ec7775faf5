import { problemRule } from '../rule.js';

export const rescueUnreachable = problemRule({
  name: 'rescue-unreachable',
  severity: 'warning',
  title: 'A rescue that is never needed, or that leads nowhere on its route.',
  page: {
    what: 'No row of the log leads from a spot of the route to the spot of the rescue, or the spot where it is to rejoin is claimed nowhere in the route.',
    why: 'A rescue nobody can need is in the way of those that matter; one that rejoins nowhere leaves the player lost.',
    bad: 'spot @dusk "dark"\nseen {\n  @arch : U -> @beam x4\n  @dusk : D -> @beam x4\n}\nroute climb from @arch {\n  U @beam\n}\nrescue @dusk in climb { D } -> @beam',
    instead:
      'spot @dusk "dark"\nseen {\n  @arch : U -> @beam x4\n  @arch : U2 -> @dusk x2\n  @dusk : D -> @beam x4\n}\nroute climb from @arch {\n  U @beam\n}\nrescue @dusk in climb { D } -> @beam',
  },
  message: ({ spot, route, reason }) => ({
    title: `the rescue from ${spot} is of no use in ${route}`,
    reason: `${reason.charAt(0).toUpperCase()}${reason.slice(1)}.`,
    wayOut: 'Log the slip that leads there, rejoin at a claimed spot, or take the rescue out.',
  }),
});
