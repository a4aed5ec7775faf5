import { nearest } from '../../text/suggest.js';
import { type Place, rule } from '../rule.js';

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
    file({ program, file, scope, facts }, report) {
      // A broken declaration may use any phrase: nothing is said until it can be read.
      if (facts.broken || !facts.routes) return;
      const unused = new Map<string, Place>();
      for (const unit of facts.phrases()) {
        const { declaration } = unit;
        if (declaration.kind !== 'let' || declaration.name === undefined) continue;
        const { name, start, end } = declaration.name;
        if (!facts.uses(name)) unused.set(name, { unit, start, end });
      }
      if (unused.size === 0) return;
      for (const other of program.files.values()) {
        if (other !== file && other.uses.some(({ path }) => path === file.path)) return;
      }
      // A misspelled use is a use: unknown-name says what is wrong with it.
      for (const name of facts.used()) {
        if (!scope.phrases.has(name)) unused.delete(nearest(name, scope.phrases.keys()) ?? '');
      }
      for (const [name, place] of unused) report(place, { name });
    },
  },
});
