import { problemRule } from '../rule.js';

export const offGround = problemRule({
  name: 'off-ground',
  severity: 'error',
  title: 'A move leaves its ground and lands on no spot.',
  page: {
    what: 'On open ground the moves add up; the sum lies outside the ground, and no spot has these coordinates.',
    why: 'What an input adds is known inside the ground only.',
    bad: 'spot @arch at (0, 0)\nground yard within (0, 0) to (20, 20) {\n  D by (0, 13)\n}\nroute climb from @arch {\n  D*2\n}',
    instead:
      'spot @arch at (0, 0)\nground yard within (0, 0) to (20, 20) {\n  D by (0, 13)\n}\nroute climb from @arch {\n  D\n}',
  },
  message: ({ from, item, ground, path }) => ({
    title: `${item} leaves the ground ${ground} from ${from}`,
    reason: `The way there is ${path}.`,
    wayOut: 'Take fewer steps, widen the ground, or declare a spot at the landing.',
  }),
});
