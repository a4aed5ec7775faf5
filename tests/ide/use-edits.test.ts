import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Move, relativePath, useEdits } from '@core/ide/use-edits.js';
import { normalPath, resolvePath } from '@core/model/paths.js';
import { edited, programOfTexts, world } from './world.js';

/** The files after the moves, by their paths before. */
function check(marked: string, moves: readonly Move[], after: string): void {
  const { analysis, texts } = world(marked);
  expect(edited(texts, useEdits(analysis, moves))).toEqual(world(after).texts);
}

const FILES = `
//- log.tiptoe
use "game.tiptoe"
//- game.tiptoe
let hop = U
//- sub/note.tiptoe
use "../log.tiptoe" # the log
use "../game.tiptoe"
`;

test('the uses of a file that gets another name', () => {
  check(
    FILES,
    [{ from: 'game.tiptoe', to: 'pier.tiptoe' }],
    FILES.replaceAll('game.tiptoe"', 'pier.tiptoe"'),
  );
});

test('the uses in a file that moves', () => {
  check(
    FILES,
    [{ from: 'sub/note.tiptoe', to: 'note.tiptoe' }],
    FILES.replace('"../log', '"log').replace('"../game', '"game'),
  );
  check(
    FILES,
    [{ from: 'sub/note.tiptoe', to: 'a/b/note.tiptoe' }],
    FILES.replace('"../log', '"../../log').replace('"../game', '"../../game'),
  );
});

test('a folder with what is in it', () => {
  check(FILES, [{ from: 'sub/', to: 'x/y' }], FILES.replace('"../log', '"../../log').replace('"../game', '"../../game')); // prettier-ignore
});

test('several files at once, two that change places too', () => {
  check(
    FILES,
    [
      { from: 'log.tiptoe', to: 'sub/log.tiptoe' },
      { from: 'game.tiptoe', to: 'sub/game.tiptoe' },
    ],
    FILES.replaceAll('"../', '"'),
  );
  check(
    FILES,
    [
      { from: 'log.tiptoe', to: 'game.tiptoe' },
      { from: 'game.tiptoe', to: 'log.tiptoe' },
    ],
    FILES.replace('use "game', 'use "log')
      .replace('"../log.tiptoe" # the log', '"../game.tiptoe" # the log')
      .replace('use "../game.tiptoe"\n', 'use "../log.tiptoe"\n'),
  );
});

test('quotes and backslashes in a name are written so that they are read', () => {
  check(
    '//- a.tiptoe\nuse "b.tiptoe"\n//- b.tiptoe\nlet a = U',
    [{ from: 'b.tiptoe', to: 'b "q".tiptoe' }],
    '//- a.tiptoe\nuse "b \\"q\\".tiptoe"\n//- b.tiptoe\nlet a = U',
  );
});

test('a use of a file that is not there goes on meaning the same place', () => {
  check('//- sub/a.tiptoe\nuse "no.tiptoe"', [{ from: 'sub/a.tiptoe', to: 'a.tiptoe' }], '//- sub/a.tiptoe\nuse "sub/no.tiptoe"'); // prettier-ignore
});

test.each<[string, Move]>([
  ['a file that nothing uses', { from: 'sub/note.tiptoe', to: 'sub/other.tiptoe' }],
  ['a file that is not there', { from: 'no.tiptoe', to: 'other.tiptoe' }],
  ['a name that is the beginning of another', { from: 'su', to: 'other' }],
  ['a move to where it is', { from: 'log.tiptoe', to: './log.tiptoe' }],
])('nothing changes for %s', (_, move) => {
  expect(useEdits(world(FILES).analysis, [move])).toEqual([]);
});

test.each([
  'use "/a.tiptoe"',
  'use ""',
  'use',
  'use "C:/a.tiptoe"',
  'use "https://a/b"',
  'use "a\\b"',
])('a path that is none stays as it is: %s', (text) => {
  const { analysis } = world(`//- sub/a.tiptoe\n${text}`);
  expect(useEdits(analysis, [{ from: 'sub/a.tiptoe', to: 'a.tiptoe' }])).toEqual([]);
});

test('files without a common root are left alone', () => {
  expect(relativePath('file:///a/b.tiptoe', 'memory://x/b.tiptoe')).toBeUndefined();
  expect(relativePath('../a.tiptoe', 'b.tiptoe')).toBeUndefined();
  expect(relativePath('file:///a/b.tiptoe', 'file:///c/d.tiptoe')).toBe('../c/d.tiptoe');
});

const part = fc.constantFrom('a', 'b', 'c');
const path = fc
  .array(part, { minLength: 1, maxLength: 4 })
  .map((parts) => `/${parts.join('/')}.tiptoe`);

test('a relative path leads back to what it was made of', () => {
  fc.assert(
    fc.property(path, path, (from, to) => {
      expect(resolvePath(from, relativePath(from, to) ?? '')).toBe(normalPath(to));
    }),
  );
});

test('after any moves every use leads to the same file', () => {
  const layout = fc.uniqueArray(path, { minLength: 2, maxLength: 6 });
  fc.assert(
    fc.property(layout, fc.uniqueArray(path, { minLength: 6, maxLength: 6 }), (before, fresh) => {
      const texts = new Map(
        before.map((from, k) => {
          const used = before[(k * 7 + 1) % before.length] ?? from;
          return [from, `use "${relativePath(from, used) ?? ''}"\n`];
        }),
      );
      // Every file moves, so that none lands on one that stays.
      const to = new Map(before.map((from, k) => [from, fresh[k] ?? from]));
      const { analysis } = world([...texts].map(([name, text]) => `//- ${name}\n${text}`).join(''));
      const moves = [...to].map(([from, target]) => ({ from, to: target }));
      const written = edited(texts, useEdits(analysis, moves));
      const after = programOfTexts(new Map([...written].map(([from, text]) => [to.get(from) ?? '', text]))); // prettier-ignore
      for (const [from, file] of analysis.program.files) {
        const moved = after.files.get(to.get(from) ?? '');
        expect(moved?.uses.map((use) => use.path)).toEqual(
          file.uses.map((use) => to.get(use.path)),
        );
      }
    }),
  );
});
