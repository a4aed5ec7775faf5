import { problemRule } from '../rule.js';

export const settleUnknown = problemRule({
  name: 'settle-unknown',
  severity: 'error',
  title: 'A ~ in a game that does not say when movement has settled.',
  page: {
    what: 'A ~, or a pace of ~, is used and the game declares no settle.',
    why: '~ waits for as many neutral frames as settle says; without the number it has no length.',
    bad: 'game "Other Kiln" {\n  clock 60\n  pace .4\n  inputs { D = y +1 }\n}\nlet hop = D ~ D',
    instead:
      'game "Other Kiln" {\n  clock 60\n  pace .4\n  settle 6\n  inputs { D = y +1 }\n}\nlet hop = D ~ D',
  },
  message: ({ game }) => ({
    title: '~ has no length here',
    reason: `${game === '' ? 'The game' : `"${game}"`} does not say after how many neutral frames a movement has settled.`,
    wayOut: 'Write settle and the number in the game, or a wait such as .6 here.',
  }),
});
