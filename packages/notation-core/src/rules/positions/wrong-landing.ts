import { problemRule } from '../rule.js';

export const wrongLanding = problemRule({
  name: 'wrong-landing',
  severity: 'error',
  title: 'The log says that the character is not where the route claims.',
  page: {
    what: 'A claim @a, the goal of a route or the end of a rescue names a spot, and by the most sighted rows of the log the character is at another one.',
    why: 'The route has been written for a character that is not there: everything behind the claim starts from the wrong spot.',
    bad: 'seen { @arch : U -> @beam x4 }\nroute climb from @arch to @coal {\n  U @coal\n}\nspot @coal',
    instead: 'seen { @arch : U -> @beam x4 }\nroute climb from @arch to @beam {\n  U @beam\n}',
  },
  message: ({ claim, spots, path }) => ({
    title: `the log leads to ${spots}, not to ${claim}`,
    reason: `By the rows that were seen most often the way is ${path}.`,
    wayOut: `Claim ${spots}, change the items in front, or log what leads to ${claim}.`,
  }),
});
