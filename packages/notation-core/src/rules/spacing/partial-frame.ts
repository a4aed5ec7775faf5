import { problemRule } from '../rule.js';

export const partialFrame = problemRule({
  name: 'partial-frame',
  severity: 'error',
  title: 'A length in time is no whole number of frames.',
  page: {
    what: 'A press or a wait is given in ms or s, and at the clock of the game that is not a whole number of ticks.',
    why: 'A controller is read once a tick. The frame before or the one after was meant, and the difference is what a setup is made of.',
    bad: 'let hop = D240ms',
    instead: 'let hop = D250ms',
    fix: 'Writes the count of frames below or above. A suggestion: only you know which.',
  },
  message: ({ written, frames, below, above, clock }) => ({
    title: `${written} falls between two frames`,
    reason: `At ${clock} ticks a second it is ${frames.replace(/0+$/, '')} frames: not quite ${above}, more than ${below}.`,
    wayOut: `Write the count, ${headOf(written)}${below > 0 ? `${below} or ${headOf(written)}` : ''}${above}.`,
  }),
  fixes: ({ start, end }, { written, below, above }) => {
    const head = headOf(written);
    if (written.includes('..')) return [];
    return [below, above]
      .filter((count) => count > 0)
      .map((count) => ({
        title: `Write ${head}${count}`,
        safety: 'suggestion' as const,
        edits: [{ start, end, text: `${head}${count}` }],
      }));
  },
});

/** `D` of `D240ms`, `.` of `.240ms`. */
function headOf(written: string): string {
  return /^([A-Z]+|\.)/.exec(written)?.[0] ?? '';
}
