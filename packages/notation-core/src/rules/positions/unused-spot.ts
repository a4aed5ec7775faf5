import { rule } from '../rule.js';

export const unusedSpot = rule({
  name: 'unused-spot',
  severity: 'warning',
  title: 'A spot is declared that nothing speaks of.',
  page: {
    what: 'A spot has a declaration, and no row, route or rescue of any file that was read names it.',
    why: 'It may be a misspelling of one that is used, or a rest of something given up.',
    bad: 'spot @arch\nspot @vent\nseen { @arch : U -> @arch x2 }',
    instead: 'spot @arch\nseen { @arch : U -> @arch x2 }',
  },
  message: ({ name }: { name: string }) => ({
    title: `@${name} is used nowhere`,
    reason: 'No row of seen, no route and no rescue names it.',
    wayOut: 'Use it, or take the declaration out.',
  }),
  check: {
    file({ facts }, report) {
      for (const unit of facts.spots()) {
        const { declaration } = unit;
        if (declaration.kind !== 'spot' || declaration.spot === undefined) continue;
        const { name, start, end } = declaration.spot;
        if (!facts.names(name)) report({ unit, start, end }, { name });
      }
    },
  },
});
