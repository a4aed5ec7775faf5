import { problemRule } from '../rule.js';

export const rangeDiffers = problemRule({
  name: 'range-differs',
  severity: 'error',
  title: 'The counts of a range do not all land alike.',
  page: {
    what: 'A count D3..4 or a repeat D*5..9 says that each number is meant to work; by the log two of them lead to different spots. One range is tried at a time, the others at their low end; of a range of more than 64 counts its ends, their neighbours and its middle are tried, and of a route with thousands of ranges the first ones.',
    why: 'A player who takes the range at its word ends elsewhere.',
    bad: 'seen {\n  @arch : U2 -> @beam x4\n  @arch : U3 -> @coal x4\n}\nroute climb from @arch {\n  U2..3\n}',
    instead:
      'seen {\n  @arch : U2 -> @beam x4\n  @arch : U3 -> @beam x4\n}\nroute climb from @arch {\n  U2..3\n}',
  },
  message: ({ written, first, firstSpots, other, otherSpots }) => ({
    title: `${written} does not land alike`,
    reason: `With ${first} the log leads to ${firstSpots}, with ${other} to ${otherSpots}.`,
    wayOut: 'Narrow the range to the counts that land alike.',
  }),
});
