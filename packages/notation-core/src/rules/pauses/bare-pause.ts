import { problemRule } from '../rule.js';

export const barePause = problemRule({
  name: 'bare-pause',
  severity: 'error',
  title: 'The pause input is pressed like another.',
  page: {
    what: 'A press or a hold names the letter of the pause input.',
    why: 'What a press of pause does depends on whether the game runs; the brackets [ ] say it, and the checker can follow them.',
    bad: 'let hop = D P R',
    instead: 'let hop = D [R1]',
  },
  message: ({ letter }) => ({
    title: `${letter} is the pause input`,
    reason: 'It is not pressed by its letter: [ pauses the game, and ] lets it run again.',
    wayOut: 'Write [ ] around what happens while the game is paused.',
  }),
});
