import { gameOf } from '../../model/scope.js';
import { many, rule } from '../rule.js';

export const dwellTooShort = rule({
  name: 'dwell-too-short',
  severity: 'error',
  title: 'A pause is left before the menu takes a press.',
  page: {
    what: 'The pause of a game has a dwell below its open, or below 1.',
    why: 'The menu takes no press for its first open ticks, so a player who dwells less cannot leave it; and the button has to be up for a tick between two presses.',
    bad: 'game "Other Kiln" {\n  clock 60\n  inputs { D = y +1 }\n  pause P { open 6 dwell 4 resume 2 }\n}',
    instead:
      'game "Other Kiln" {\n  clock 60\n  inputs { D = y +1 }\n  pause P { open 6 dwell 6 resume 2 }\n}',
    fix: 'Writes the shortest dwell that can be played. It changes the timing of every pause.',
  },
  message: ({ dwell, open }: { dwell: number; open: number }) => ({
    title: `A dwell of ${dwell} is too short`,
    reason:
      dwell < open
        ? `The menu takes no press for its first ${many(open, 'tick')}, and the player would press after ${dwell}.`
        : 'The pause button has to be up for a tick between two presses.',
    wayOut: `Write dwell ${Math.max(1, open)} or more.`,
  }),
  check: {
    game(declaration, { unit }, report) {
      const { pause } = gameOf(declaration, unit).game;
      if (pause === undefined || pause.dwell >= Math.max(1, pause.open)) return;
      const setting = declaration.pauses[0]?.settings.find(({ key }) => key.name === 'dwell');
      const { start, end } = setting ?? declaration;
      const { dwell, open } = pause;
      report({ unit, start, end }, { dwell, open }, () => [
        {
          title: `Write dwell ${Math.max(1, open)}`,
          safety: 'changes-timing',
          edits: [{ start, end, text: `dwell ${Math.max(1, open)}` }],
        },
      ]);
    },
  },
});
