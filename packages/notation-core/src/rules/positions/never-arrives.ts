import { problemRule } from '../rule.js';

export const neverArrives = problemRule({
  name: 'never-arrives',
  severity: 'error',
  title: 'An until waits for a spot that repeating never leads to.',
  page: {
    what: 'From a place where the character can be, repeating the item goes round in a cycle that the spot of the until is not in.',
    why: 'The player taps for ever.',
    bad: 'spot @coal "coal dust falls"\nseen {\n  @arch : U -> @beam x4\n  @beam : U -> @arch x4\n}\nroute climb from @arch {\n  U*2+ until @coal\n}',
    instead:
      'spot @arch "soot on the arch"\nspot @beam "the beam creaks"\nseen {\n  @arch : U -> @beam x4\n  @beam : U -> @arch x4\n}\nroute climb from @arch {\n  U*2+ until @beam\n}',
  },
  message: ({ target, from, cycle, tail }) => ({
    title: `${target} is never reached from ${from}`,
    reason:
      tail === 0
        ? `Repeating goes round: ${cycle}.`
        : `After ${tail} more it goes round: ${cycle}.`,
    wayOut: 'Name a spot of the cycle, repeat another item, or narrow from.',
  }),
});
