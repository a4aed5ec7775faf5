import { problemRule } from '../rule.js';

export const conflictingLog = problemRule({
  name: 'conflicting-log',
  severity: 'warning',
  title: 'Two rows of the log contradict each other.',
  page: {
    what: 'A row over several items lands elsewhere than the rows of its parts do one after the other, or a row on open ground elsewhere than the moves of the ground add up to. Different landings of the very same items are no contradiction: they are spread, and their counts are weights.',
    why: 'One of them was noted wrong, or the character was not at rest in between. A route that stands on them is not proved.',
    bad: 'seen {\n  @arch : U -> @beam x4\n  @beam : R -> @coal x4\n  @arch : U R -> @dusk x2\n}',
    instead:
      'seen {\n  @arch : U -> @beam x4\n  @beam : R -> @coal x4\n  @arch : U R -> @coal x2\n}',
  },
  message: ({ from, items, says, parts }) => ({
    title: `${items} from ${from} leads to ${says} here, and to ${parts} by its parts`,
    reason:
      'The rows of the single items, one after the other with the movement settled, say otherwise.',
    wayOut: 'Try it again and correct the row that is wrong.',
  }),
});
