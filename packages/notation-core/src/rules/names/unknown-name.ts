import { didYouMean, problemRule, renameFix } from '../rule.js';

export const unknownName = problemRule({
  name: 'unknown-name',
  severity: 'error',
  title: 'A name stands for nothing.',
  page: {
    what: 'A phrase, a route, a setting or a rule is named that nothing in this file or the files that it uses declares.',
    why: 'Nothing can be looked up for it: the item was left out, and what follows was checked without it.',
    bad: 'let shuffle = R D\nroute crossing { shufle D }',
    instead: 'let shuffle = R D\nroute crossing { shuffle D }',
    fix: 'Writes the nearest name that exists. A suggestion, since only you know what was meant.',
  },
  message: ({ kind, name, near }) => ({
    title: `${name} is no ${kind}`,
    reason: `No ${kind} is called ${name} in this file or in the files that it uses.`,
    wayOut: didYouMean(
      near,
      kind === 'phrase'
        ? `Declare it with let ${name} = …, or use the file that does.`
        : 'Write a name that exists.',
    ),
  }),
  fixes: (place, { near }) => renameFix(place, near),
});
