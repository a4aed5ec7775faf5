import { rule } from '../rule.js';
import { inputsOf, sizeOf } from '../shape.js';

export const pinch = rule({
  name: 'pinch',
  severity: 'warning',
  title: 'More inputs change on one tick than hands can time.',
  page: {
    what: 'On one tick more inputs go down or up than the limit, 3 unless tiptoe.json sets changesPerTick. The pause input counts. Inputs let go while the game stays paused do not.',
    why: 'Each input that has to change on the same tick is a chance more to be a tick off. The limit is common practice; no study is behind it.',
    bad: 'let hop = ULJS3',
    instead: 'let hop = UL3-ULJ3',
  },
  message: ({ count, limit, letters }: { count: number; limit: number; letters: string }) => ({
    title: `${count} inputs change on one tick`,
    reason: `${letters} change together, and the limit is ${limit}.`,
    wayOut: 'Let some of them change a frame earlier, or set changesPerTick in tiptoe.json.',
  }),
  check: {
    rise({ game, limits, all, before, withPause, at, pause }, report) {
      const changed = all ^ before;
      const count = sizeOf(changed) + (withPause ? 1 : 0);
      if (count <= limits.changesPerTick) return;
      const letters = inputsOf(game, changed).map(({ letter }) => letter);
      if (withPause) letters.push(pause.letter);
      const { unit, item } = at;
      const { start } = item;
      const end = item.kind === 'press' ? item.end : start + 1;
      report({ unit, start, end }, {
        count,
        limit: limits.changesPerTick,
        letters: letters.join(', '),
      }); // prettier-ignore
    },
  },
});
