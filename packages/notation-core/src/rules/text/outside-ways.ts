import { problemRule } from '../rule.js';

export const outsideWays = problemRule({
  name: 'outside-ways',
  severity: 'error',
  fixed: true,
  title: 'An item stands in choose outside its ways.',
  page: {
    what: 'Between the braces of a choose stand its ways, each a name with a block, and nothing else.',
    why: 'An item outside the ways would belong to none of them.',
    bad: 'route crossing { choose end { J fast { D } } }',
    instead: 'route crossing { J choose end { fast { D } } }',
  },
  message: ({ written }) => ({
    title: `${written} belongs to no way`,
    reason: 'Inside choose stand only ways: a name and a block, such as fast { U*8 }.',
    wayOut: 'Put it into a way, or in front of the choose.',
  }),
});
