import { nearest } from '../../text/suggest.js';
import { rule } from '../rule.js';
import { bodiesOf } from '../bodies.js';
import { visit } from '../visit.js';

export const unusedName = rule({
  name: 'unused-name',
  severity: 'warning',
  title: 'A phrase is used nowhere.',
  page: {
    what: 'A file with routes declares a phrase that nothing in it uses. Files without routes, and files that another checked note uses, are left alone: their phrases are there for others.',
    why: 'A phrase that nobody plays is often a misspelled one, or what a route forgot.',
    bad: 'let shuffle = R D\nroute crossing { D3 R }',
    instead: 'let shuffle = R D\nroute crossing { shuffle D3 R }',
  },
  message: ({ name }: { name: string }) => ({
    title: `${name} is used nowhere`,
    reason: `No route, rescue, row or other phrase of this file contains ${name}.`,
    wayOut: `Write ${name} where it belongs, or take it away.`,
  }),
  check: {
    file({ program, file, scope }, report) {
      const { units } = file.tree;
      const routes = units.some(({ unit }) => unit.declaration.kind === 'route');
      const lets = units.some(({ unit }) => unit.declaration.kind === 'let');
      if (!routes || !lets) return;
      for (const other of program.files.values()) {
        if (other !== file && other.uses.some(({ path }) => path === file.path)) return;
      }
      const used = new Set<string>();
      for (const { unit } of units) {
        const { declaration } = unit;
        // A broken declaration may use any phrase: nothing is said until it can be read.
        if (unit.problems.length > 0) return;
        const own = declaration.kind === 'let' ? declaration.name?.name : undefined;
        for (const body of bodiesOf(unit.declaration)) {
          visit(body, unit, {
            item: (item) => {
              if (item.kind === 'phrase' && item.name !== own) used.add(item.name);
            },
            spot: () => undefined,
          });
        }
      }
      // A misspelled use is a use: unknown-name says what is wrong with it.
      const meant = new Set<string | undefined>();
      for (const name of used) {
        if (!scope.phrases.has(name)) meant.add(nearest(name, scope.phrases.keys()));
      }
      for (const { unit } of units) {
        const { declaration } = unit;
        if (declaration.kind !== 'let' || declaration.name === undefined) continue;
        const { name, start, end } = declaration.name;
        if (!used.has(name) && !meant.has(name)) report({ unit, start, end }, { name });
      }
    },
  },
});
