import { problemRule } from '../rule.js';

export const gameUnclear = problemRule({
  name: 'game-unclear',
  severity: 'error',
  title: 'No game, or more than one, is in force.',
  page: {
    what: 'A file presses inputs and neither it nor a file that it uses declares a game; or two games are declared.',
    why: 'The game says which inputs there are, how many ticks a second has, and what a space means.',
    bad: 'use "kiln.tiptoe"\ngame "Other Kiln" { clock 60 inputs { D = y +1 } }',
    instead: 'use "kiln.tiptoe"',
  },
  message: ({ count, titles }) =>
    count === 0
      ? {
          title: 'No game is declared',
          reason: 'Inputs are pressed here, and nothing says which game they are of.',
          wayOut: 'Use the file of the game, such as use "saltmarsh.tiptoe", or declare it here.',
        }
      : {
          title: `${count} games are declared`,
          reason: `A note is of one game, and here are ${titles}.`,
          wayOut: 'Keep the notes of different games in files that do not use one another.',
        },
});
