import { problemRule } from '../rule.js';

export const unknownLanding = problemRule({
  name: 'unknown-landing',
  severity: 'warning',
  title: 'No row of the log says where an item leads.',
  page: {
    what: 'A route or rescue is followed by the log, and from a spot where the character can be no row, no move of a ground and no wait covers the next items.',
    why: 'From there to the next claim nobody knows where the character is, and no claim is proved. A row over one item speaks only of a character that comes to rest behind it: where the next item is joined on or comes before the movement has settled, a row over both is needed.',
    bad: 'seen { @arch : U -> @beam x4 }\nroute climb from @arch {\n  U R\n}',
    instead:
      'seen {\n  @arch : U -> @beam x4\n  @beam : R -> @coal x3\n}\nroute climb from @arch {\n  U R\n}',
  },
  message: ({ from, item, path }) => ({
    title: `the log does not say where ${item} leads from ${from}`,
    reason: path === '' ? 'No row begins so.' : `The way there is ${path}.`,
    wayOut: `Try it and log it, or claim the spot behind it.`,
  }),
});
