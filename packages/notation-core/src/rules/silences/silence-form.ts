import { rule } from '../rule.js';

export const silenceForm = rule({
  name: 'silence-form',
  severity: 'error',
  title: 'A comment to the checker cannot be read.',
  page: {
    what: 'A comment that begins with "tiptoe:" is meant for the checker, and this one is not in the form that it reads.',
    why: 'A silence that is not read silences nothing, and nobody would notice.',
    bad: '# tiptoe: ignore unsettled\nlet hop = U .4 J',
    instead:
      '# tiptoe: allow unsettled because the ledge catches the second step\nlet hop = U .4 J',
  },
  message: ({ written }: { written: string }) => ({
    title: 'This comment to the checker cannot be read',
    reason: `It says "${written.slice(0, 60)}"; a silence names its rules and a reason.`,
    wayOut: 'Write # tiptoe: allow rule-name because of such and such.',
  }),
});
