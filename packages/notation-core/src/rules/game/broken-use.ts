import { filesInScope } from '../../model/scope.js';
import type { SourceFile } from '../../model/program.js';
import { many, rule } from '../rule.js';

export const brokenUse = rule({
  name: 'broken-use',
  severity: 'error',
  title: 'A used file has errors of its own.',
  page: {
    what: 'A file that is used, and was not asked to be checked itself, has errors.',
    why: 'What this note takes from it may be missing or wrong, and nothing here would show it.',
    bad: 'use "broken.tiptoe"\nuse "kiln.tiptoe"\nlet hop = D3 R',
    instead: 'use "kiln.tiptoe"\nlet hop = D3 R',
  },
  message: ({ path, count }: { path: string; count: number }) => ({
    title: `"${path}" has ${many(count, 'error')}`,
    reason: 'It is used here, so what it declares may be missing or wrong.',
    wayOut: `Check it by itself: tiptoe check ${path}`,
  }),
  check: {
    file({ program, file, errorsIn }, report) {
      const told = new Set<SourceFile>([file]);
      for (const { path, placed, declaration } of file.uses) {
        const used = program.files.get(path);
        if (used === undefined) continue;
        for (const each of filesInScope(program, used)) {
          if (told.has(each)) continue;
          told.add(each);
          const count = program.entries.includes(each.path) ? 0 : errorsIn(each);
          const { start, end } = declaration.path ?? declaration;
          if (count > 0) report({ unit: placed.unit, start, end }, { path: each.path, count });
        }
      }
    },
  },
});
