import { didYouMean, problemRule, renameFix } from '../rule.js';

export const undeclaredSpot = problemRule({
  name: 'undeclared-spot',
  severity: 'warning',
  title: 'A spot is named that nothing introduces.',
  page: {
    what: 'A claim, an until, a from or a rescue names a spot that is neither declared with spot, nor named in the log, nor the goal of a route. It is said once for each declaration.',
    why: 'A misspelled spot is a place where nobody ever stands: no row of the log leads to it, and a claim of it can never be proved.',
    bad: 'spot @vent\nroute crossing { D3 @vnet R }',
    instead: 'spot @vent\nroute crossing { D3 @vent R }',
    fix: 'Writes the nearest spot. A suggestion, since only you know what was meant.',
  },
  message: ({ name, near }) => ({
    title: `@${name} is introduced nowhere`,
    reason: `Neither a spot nor a row of seen in this file or the files that it uses names @${name}.`,
    wayOut: didYouMean(near === '' ? '' : `@${near}`, `Declare it: spot @${name}.`),
  }),
  fixes: (place, { near }) => renameFix(place, near === '' ? '' : `@${near}`),
});
