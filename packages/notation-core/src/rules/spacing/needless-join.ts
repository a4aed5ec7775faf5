import { problemRule } from '../rule.js';

export const needlessJoin = problemRule({
  name: 'needless-join',
  severity: 'warning',
  title: 'A - beside a wait.',
  page: {
    what: 'A - joins a wait to its neighbour.',
    why: 'A written wait takes the place of the pace on both its sides, so nothing stands between them anyway.',
    bad: 'let hop = D3-.8 R',
    instead: 'let hop = D3 .8 R',
    fix: 'Writes a space in the place of the -. Safe: the input is the same.',
  },
  message: ({ written }) => ({
    title: 'This - joins nothing that was apart',
    reason: `Beside a written wait stands no pace, so ${written} begins at once with a space as well.`,
    wayOut: 'Write a space in the place of the -.',
  }),
  fixes: ({ start, end, unit }) => {
    const blank = /\s/.test(unit.text.charAt(start - 1)) || /\s/.test(unit.text.charAt(end));
    const edits = [{ start, end, text: blank ? '' : ' ' }];
    return [{ title: 'Write a space', safety: 'safe', edits }];
  },
});
