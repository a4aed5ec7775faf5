import { problemRule } from '../rule.js';

export const untilAlone = problemRule({
  name: 'until-alone',
  severity: 'error',
  fixed: true,
  title: 'An until or an open repeat lacks the other one.',
  page: {
    what: 'until @spot belongs to a repeat, and an open repeat such as *6+ needs an until.',
    why: 'Without a repeat nothing is done again until the spot is seen; without until an open repeat never ends.',
    bad: 'route crossing { D until @vent }\nspot @vent',
    instead: 'route crossing { D*1+ until @vent }\nspot @vent',
  },
  message: ({ written }) =>
    written === 'until'
      ? {
          title: 'until has nothing to end',
          reason: 'It says when a repeat ends, and no repeat stands right in front of it.',
          wayOut: 'Write a repeat in front of it, such as D*6+ until @spot.',
        }
      : {
          title: `${written} never ends`,
          reason: 'The + leaves the number open, and no until says what the player waits to see.',
          wayOut: `Write until and a spot behind it, such as ${written} until @spot.`,
        },
});
