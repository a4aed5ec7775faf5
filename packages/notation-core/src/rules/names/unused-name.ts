import { nearest } from '../../text/suggest.js';
import type { Item, Unit } from '../../syntax/tree.js';
import { type Place, rule } from '../rule.js';
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
      const unused = new Map<string, Place>();
      let routes = false;
      for (const { unit } of units) {
        const { declaration } = unit;
        // A broken declaration may use any phrase: nothing is said until it can be read.
        if (unit.problems.length > 0) return;
        if (declaration.kind === 'route') routes = true;
        if (declaration.kind !== 'let' || declaration.name === undefined) continue;
        const { name, start, end } = declaration.name;
        unused.set(name, { unit, start, end });
      }
      if (!routes || unused.size === 0) return;
      for (const other of program.files.values()) {
        if (other !== file && other.uses.some(({ path }) => path === file.path)) return;
      }
      const unknown = new Set<string>();
      for (const { unit } of units) {
        if (unused.size === 0) return;
        if (unit.declaration.kind === 'use' || unit.declaration.kind === 'game') continue;
        for (const name of phrasesIn(unit)) {
          if (!unused.delete(name) && !scope.phrases.has(name)) unknown.add(name);
        }
      }
      // A misspelled use is a use: unknown-name says what is wrong with it.
      for (const name of unknown) unused.delete(nearest(name, scope.phrases.keys()) ?? '');
      for (const [name, place] of unused) report(place, { name });
    },
  },
});

/** The phrases that a declaration uses, itself left out. */
function phrasesIn(unit: Unit): Set<string> {
  const { declaration } = unit;
  const names = new Set<string>();
  const item = (item: Item): void => {
    if (item.kind === 'phrase') names.add(item.name);
  };
  for (const body of bodiesOf(declaration)) visit(body, unit, { item, spot: () => undefined });
  if (declaration.kind === 'let') names.delete(declaration.name?.name ?? '');
  return names;
}
