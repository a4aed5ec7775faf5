import { problemRule } from '../rule.js';

export const pauseUndeclared = problemRule({
  name: 'pause-undeclared',
  severity: 'error',
  title: 'A [ ] in a game without a pause input.',
  page: {
    what: 'A sequence pauses the game, and the game declares no pause.',
    why: 'How long the menu takes to open and to let the game run again decides every tick of a pause.',
    bad: 'game "Other Kiln" {\n  clock 60\n  settle 4\n  inputs { D = y +1 }\n}\nlet hop = D [D1]',
    instead:
      'game "Other Kiln" {\n  clock 60\n  settle 4\n  inputs { D = y +1 }\n  pause P { open 4 dwell 8 resume 2 }\n}\nlet hop = D [D1]',
  },
  message: ({ game }) => ({
    title: 'The game cannot be paused',
    reason: `${game === '' ? 'The game' : `"${game}"`} declares no pause input.`,
    wayOut: 'Declare it in the game, such as pause P { open 4 dwell 10 resume 2 }.',
  }),
});
