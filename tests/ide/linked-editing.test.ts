import { expect, test } from 'vitest';
import { linkedEditing } from '@core/ide/linked-editing.js';
import { draw, world } from './world.js';

/** `«…»` is what is typed over together. */
function check(marked: string): void {
  const { analysis, path, offset, texts, wanted } = world(marked);
  const linked = linkedEditing(analysis, path, offset);
  expect(
    draw(
      texts,
      (linked?.spans ?? []).map((span) => ({ ...span, path })),
    ),
  ).toEqual(wanted);
  if (linked === undefined) return;
  const pattern = new RegExp(`^${linked.wordPattern}$`);
  for (const { start, end } of linked.spans)
    expect(texts.get(path)?.slice(start, end)).toMatch(pattern);
}

test('the claims of a route, its header, and the declaration', () => {
  check(`
spot @«lamp» "lit"
route over from @pier @«lamp» to @«lamp» {
  U*2+ until @«la|mp»
  (D @«lamp») R @pier
}
route under { U @lamp }
`);
});

test('a route without a declaration', () => {
  check('route over to @«föhn» { U @«fö|hn» }\nseen { @föhn : U -> @föhn }');
});

test('the rows of a log', () => {
  check('seen { @«lamp» : U -> @pier  @pier : U -> @«la|mp» }\nroute over { U @lamp }');
});

test('from the declaration, where one other declaration names the spot', () => {
  check('spot @«la|mp»\nroute over to @«lamp» { U @«lamp» }');
  check('spot @la|mp\nroute over to @lamp { U }\nroute under { D @lamp }');
});

test('the pattern takes no more than a name', () => {
  const { analysis, path, offset } = world('route over to @lamp { U @la|mp }');
  const pattern = new RegExp(`^${linkedEditing(analysis, path, offset)?.wordPattern ?? ''}$`);
  for (const name of ['lamp', 'lamp_2', '7', 'föhn']) expect(name).toMatch(pattern);
  for (const none of ['', '@lamp', 'a b', 'a-b', 'a{', 'a"', 'a:', 'a#'])
    expect(none).not.toMatch(pattern);
});

test.each([
  ['a spot that stands alone', 'route over { U @la|mp }'],
  ['a declaration that nothing names', 'spot @la|mp'],
  ['a phrase', 'let ho|p = U\nroute over { hop }'],
  ['an input', 'route over { U| U }'],
  ['a route', 'route ov|er { U }\nrescue @lamp in over { U } -> @lamp'],
  ['a comment', 'route over to @lamp { U @lamp # @la|mp\n }'],
  [
    'a declaration in another file',
    '//- a.tiptoe\nuse "b.tiptoe"\nroute over { U @la|mp }\n//- b.tiptoe\nspot @lamp',
  ],
])('nothing for %s', (_, marked) => {
  check(marked);
});
