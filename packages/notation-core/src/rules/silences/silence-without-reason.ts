import { rule } from '../rule.js';

export const silenceWithoutReason = rule({
  name: 'silence-without-reason',
  severity: 'error',
  title: 'A silence does not say why.',
  page: {
    what: 'A comment allows a rule and gives no reason.',
    why: 'Whoever reads the note later has to know whether what is allowed still holds.',
    bad: '# tiptoe: allow unsettled\nlet hop = U .4 J',
    instead:
      '# tiptoe: allow unsettled because the ledge catches the second step\nlet hop = U .4 J',
  },
  message: ({ names }: { written: string; names: string }) => ({
    title: 'This silence gives no reason',
    reason: `It allows ${names}, and nothing says why.`,
    wayOut: `Write # tiptoe: allow ${names} because, and then the reason in your own words.`,
  }),
});
