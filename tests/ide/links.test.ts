import { expect, test } from 'vitest';
import { links } from '@core/ide/links.js';
import { draw, world } from './world.js';

/** `«…»` are the links that lead to a file, `‹…›` those that lead nowhere. */
function check(marked: string, ...targets: (string | undefined)[]): void {
  const { analysis, path, texts, wanted } = world(marked);
  const found = links(analysis, path);
  const spans = found.map((link) => ({ ...link, path, second: link.target === undefined }));
  expect(draw(texts, spans)).toEqual(wanted);
  expect(found.map(({ target }) => target)).toEqual(targets);
}

test('a use leads to its file', () => {
  check(
    `
//- sub/note.tiptoe
# first
use "«../log.tiptoe»"
let a = U
use "«./more.tiptoe»"
//- log.tiptoe
let b = U
//- sub/more.tiptoe
let c = U
//- sub/log.tiptoe
let d = U
`,
    'log.tiptoe',
    'sub/more.tiptoe',
  );
});

test('a circle leads back', () => {
  check('//- a.tiptoe\nuse "«b.tiptoe»"\n//- b.tiptoe\nuse "a.tiptoe"', 'b.tiptoe');
});

test('a file that is not there, and a path that is none', () => {
  check('use "‹no.tiptoe›"\nuse "‹/abs.tiptoe›"\nuse "‹›"', undefined, undefined, undefined);
});

test('a text without its end', () => {
  check('//- a.tiptoe\nuse "«b.tiptoe»\nlet a = U\n//- b.tiptoe\nlet b = U', 'b.tiptoe');
});

test.each(['', 'use', '# use "a.tiptoe"', 'let a = U "a.tiptoe"', 'game "a.tiptoe" { }'])(
  'no link in %j',
  (text) => check(text),
);
