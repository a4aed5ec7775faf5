import { rule } from '../rule.js';

export const repeatedUse = rule({
  name: 'repeated-use',
  severity: 'warning',
  title: 'A file is used twice.',
  page: {
    what: 'Two use lines of one file lead to the same file.',
    why: 'A file is read once however often it is used, so the second line does nothing.',
    bad: 'use "kiln.tiptoe"\nuse "./kiln.tiptoe"\nlet hop = D3 R',
    instead: 'use "kiln.tiptoe"\nlet hop = D3 R',
    fix: 'Takes the second line away. Safe.',
  },
  message: ({ path }: { path: string }) => ({
    title: `"${path}" is used already`,
    reason: 'A use in front of this one leads to the same file.',
    wayOut: 'Take this line away.',
  }),
  check: {
    file({ file }, report) {
      const seen = new Set<string>();
      for (const { path, placed, declaration } of file.uses) {
        if (seen.has(path)) {
          const { unit } = placed;
          const { start, end } = declaration;
          const written = declaration.path?.value ?? path;
          report({ unit, start, end }, { path: written }, () => [
            {
              title: 'Take the second use away',
              safety: 'safe',
              edits: [{ start, end: lineEnd(unit.text, end), text: '' }],
            },
          ]);
        }
        seen.add(path);
      }
    },
  },
});

/** Behind the line end where nothing else stands on the line. */
function lineEnd(text: string, from: number): number {
  return from + (/^[ \t]*(\r\n|\n|\r)/.exec(text.slice(from))?.[0].length ?? 0);
}
