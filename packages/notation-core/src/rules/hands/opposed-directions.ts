import { rule } from '../rule.js';
import { inputsOf } from '../shape.js';

export const opposedDirections = rule({
  name: 'opposed-directions',
  severity: 'error',
  title: 'Two values on one axis at once.',
  page: {
    what: 'A press, together with the holds around it, holds two inputs that are different values of the same axis.',
    why: 'A stick or a cross points one way at a time. What a game makes of both differs from pad to pad, so nothing that follows would be certain.',
    bad: 'let hop = LR3',
    instead: 'let hop = L3-R3',
  },
  message: ({ written, axis, values }: { written: string; axis: string; values: string }) => ({
    title: `${written} holds two directions at once`,
    reason: `${values} are different values of the axis ${axis}, and it can have one.`,
    wayOut: 'Hold one of them, or roll from one to the other with - between them.',
  }),
  inLog: true,
  check: {
    begin({ game, shape, at, all, outer, held }, report) {
      if ((all & (all - 1)) === 0) return;
      for (const { name, mask } of shape.axes) {
        const both = all & mask;
        if ((both & (both - 1)) === 0 || (held & mask) === 0) continue;
        const inputs = inputsOf(game, both);
        if (new Set(inputs.map(({ value }) => Number(value))).size === 1) continue;
        const { unit, item } = at;
        const letters = inputs.map(({ letter, value }) => `${letter} (${value})`);
        const head = 'inputs' in item ? item.inputs.length : item.end - item.start;
        const place = { unit, start: item.start, end: item.start + head };
        const written = unit.text.slice(place.start, place.end);
        const within = (outer & mask) === 0 ? '' : ' inside its hold';
        report(place, { written: written + within, axis: name, values: letters.join(' and ') });
      }
    },
  },
});
