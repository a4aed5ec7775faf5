import { problemRule } from '../rule.js';

export const strayCount = problemRule({
  name: 'stray-count',
  severity: 'error',
  fixed: true,
  title: 'A number stands alone.',
  page: {
    what: 'A number stands between items, with nothing that it counts.',
    why: 'A count belongs to what it counts without a space: D4 holds D for 4 frames, .4 waits 4 ticks, D*4 taps D four times.',
    bad: 'let hop = D 4 R',
    instead: 'let hop = D4 R',
    fix: 'Joins the number to the press in front of it. A suggestion: a wait or a repeat may have been meant.',
  },
  message: ({ written, inputs }) => {
    const whole = /^[0-9]+$/.test(written);
    const ticks = written === '1' ? '1 tick' : whole ? `${written} ticks` : written;
    return {
      title: `${written} stands alone`,
      reason: 'A count is written right behind what it counts, and here it follows a space.',
      wayOut:
        inputs === ''
          ? `Write a press in front of it, such as D${written}, or .${written} to wait.`
          : `Write ${inputs}${written} to hold ${inputs} for ${ticks}${whole ? `, or ${inputs}*${written} to tap it ${written === '1' ? 'once' : `${written} times`}` : ''}.`,
    };
  },
  fixes: ({ unit, start }, { inputs, written }) => {
    if (inputs === '') return [];
    const before = unit.text.slice(0, start);
    const from = before.trimEnd().length;
    return [
      {
        title: `Write ${inputs}${written}`,
        safety: 'suggestion',
        edits: [{ start: from, end: start, text: '' }],
      },
    ];
  },
});
