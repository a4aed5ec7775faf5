import { problemRule, renameFix } from '../rule.js';

export const misspelledWord = problemRule({
  name: 'misspelled-word',
  severity: 'error',
  fixed: true,
  title: 'A word that begins a declaration is misspelled.',
  page: {
    what: 'A line begins with a word that is nearly one of use, game, hands, spot, let, seen, ground, route and rescue.',
    why: 'The declaration is read as the word that was meant, so that the rest of it can be checked, but the note should say what it means.',
    bad: 'rout crossing "Over the vents" { D3 R }',
    instead: 'route crossing "Over the vents" { D3 R }',
    fix: 'Writes the word that was meant. A suggestion, since only you know it.',
  },
  message: ({ written, meant }) => ({
    title: `${written} is no declaration`,
    reason: `Declarations begin with use, game, hands, spot, let, seen, ground, route or rescue; ${written} is nearly ${meant} and was read so.`,
    wayOut: `Write ${meant} instead of ${written}.`,
  }),
  fixes: (place, { meant }) => renameFix(place, meant),
});
