import { problemRule } from '../rule.js';

export const undeclaredInput = problemRule({
  name: 'undeclared-input',
  severity: 'error',
  title: 'A press names an input that the game does not have.',
  page: {
    what: 'A capital letter in a press or a hold is none of the inputs of the game.',
    why: 'A table has a column for each input of the game, and this one would be in none.',
    bad: 'let hop = DX3',
    instead: 'let hop = DR3',
  },
  message: ({ letter, game, has }) => ({
    title: `${letter} is no input of ${game === '' ? 'the game' : `"${game}"`}`,
    reason: has === '' ? 'The game declares no inputs.' : `Its inputs are ${has}.`,
    wayOut: `Write one of them, or declare ${letter} among the inputs of the game.`,
  }),
});
