import { expect, test } from 'vitest';
import { highlights } from '@core/ide/highlights.js';
import { references } from '@core/ide/references.js';
import { draw, world } from './world.js';

/** `«…»` are the references, `‹…›` those that give the name. */
function check(marked: string): void {
  const { analysis, texts, path, offset, wanted } = world(marked);
  const found = references(analysis, path, offset);
  const drawn = draw(
    texts,
    found.map((each) => ({ ...each, second: each.declares })),
  );
  expect(drawn).toEqual(wanted);
  const [first] = found;
  const name = first === undefined ? '' : texts.get(first.path)?.slice(first.start, first.end);
  for (const { path: at, start, end } of found) expect(texts.get(at)?.slice(start, end)).toBe(name);
  // Without the declarations it is the rest, and the file's own part is what is highlighted.
  expect(references(analysis, path, offset, false)).toEqual(found.filter((each) => !each.declares));
  expect(highlights(analysis, path, offset)).toEqual(
    found
      .filter((each) => each.path === path)
      .map(({ start, end, declares }) => ({ start, end, declares })),
  );
}

test('a phrase, from a use of it', () => {
  check(`
let ‹hop› = U D
let twice = «ho|p» «hop»*2 (J «hop»)
seen { @pier : «hop» -> @lamp }
route over { «hop»-J [D] twice }
rescue @lamp in over { «hop» } -> @pier
ground deck { «hop» by (0, 1) }
`);
});

test('a phrase is no route of the same name', () => {
  check(`
let ‹h|op› = U D
route hop { «hop» }
rescue @lamp in hop { U } -> @pier
`);
});

test('a route and its rescues', () => {
  check(`
let over = U
route ‹over› { over }
rescue @lamp in «o|ver» { over } -> @pier
`);
});

test('a spot wherever it is spoken of, from its @', () => {
  check(`
spot @‹lamp› "lit"
seen { @«lamp» : U -> @pier   @pier : U -> |@«lamp» x3 }
route over from @«lamp» x2 @pier to @«lamp» {
  U*2+ until @«lamp»
  choose way { a { (D @«lamp») } b { [U @«lamp»] } }
}
rescue @«lamp» in over { U } -> @«lamp»
`);
});

test('a spot of the log without a declaration', () => {
  check('seen { @«l|amp» : U -> @pier }\nroute over to @«lamp» { D @«lamp» }');
});

test('an input letter by letter', () => {
  check(`
game "Pier" {
  clock 50
  inputs { ‹D› = y +1  R = x +1 }
}
let roll = «D»3-«D»R2-R
route over { «|D»&(.4 R) R«D»&(R) [«D»1 R«D»] «D»*3 "D" pace .2 } # D
`);
});

test('the letter behind the cursor where two touch', () => {
  check('route over { D|«R»2 «R» D }');
});

test('the letter in front of the cursor at the end of a press', () => {
  check('route over { D«R»|2 «R» D }');
});

test('the pause input', () => {
  check('game "Pier" { clock 50 inputs { D = y +1 } pause ‹|P› { open 4 } }\nroute a { «P» D }');
});

test('a way in its own choose only', () => {
  check(`
route over {
  choose near { ‹f|ast› { U } slow { D } }
  choose far { fast { U } slow { D } }
}
`);
});

test('a choice in its own route only', () => {
  check('route over { choose ‹f|ar› { a { U } } }\nroute under { choose far { a { U } } }');
});

test('an axis and a button in their game only', () => {
  check(
    'game "Pier" { inputs { D = «y|» +1 U = «y» -1 J = jump } }\ngame "B" { inputs { D = y +1 } }',
  );
  check('game "Pier" { inputs { D = y +1 J = «ju|mp» K = «jump» } }');
});

test('ground and hands', () => {
  check('ground ‹de|ck› within (0, 0) to (9, 9) { U by (0, 1) }\nlet deck = U');
  check('hands ‹ti|red› { reset 14s }\nlet tired = U');
});

test('in the files that use the one that declares', () => {
  check(`
//- a/names.tiptoe
let ‹hop› = U D
//- log.tiptoe
use "a/names.tiptoe"
seen { @pier : «hop» -> @lamp }
//- b/far.tiptoe
use "../log.tiptoe"
route over { «h|op» }
//- other.tiptoe
let hop = D
route under { hop }
`);
});

test('two files that see the same log mean the same spot', () => {
  check(`
//- log.tiptoe
seen { @«lamp» : U -> @pier }
//- a.tiptoe
use "log.tiptoe"
route over { U @«la|mp» }
//- b.tiptoe
use "log.tiptoe"
spot @‹lamp›
`);
});

test('names that nothing brings together are others', () => {
  check(`
//- base.tiptoe
let nothing = U
//- a.tiptoe
use "base.tiptoe"
route over { U @«la|mp» }
//- b.tiptoe
use "base.tiptoe"
spot @lamp
`);
});

test('a file without a game presses the inputs of every game that it is used with', () => {
  check(`
//- phrases.tiptoe
let hop = «U|»
//- one.tiptoe
use "phrases.tiptoe"
game "One" { inputs { ‹U› = y -1 } }
route a { «U» hop }
//- two.tiptoe
use "phrases.tiptoe"
game "Two" { inputs { ‹U› = y -1 } }
//- three.tiptoe
game "Three" { inputs { U = y -1 } }
`);
});

test('circles of use', () => {
  check(`
//- a.tiptoe
use "b.tiptoe"
let ‹hop› = U
//- b.tiptoe
use "a.tiptoe"
route over { «h|op» }
`);
});

test('broken text around a name costs nothing', () => {
  check(`
let ‹hop› = (U
rout over { «ho|p» [ }
route { «hop» *
??? «hop»
`);
});

test.each([
  ['a keyword', 'ro|ute over { D }'],
  ['a count', 'route over { D12|3 }'],
  ['a comment', 'let hop = D # h|op'],
  ['a note for the player', 'let hop = D\nroute over { hop "h|op" }'],
  ['a title', 'game "Pi|er" { clock 50 }'],
  ['a gap', 'route over { D  |  R }'],
  ['a wait', 'route over { D .4| R }'],
  ['a setting', 'game "Pier" { clo|ck 50 }'],
  ['the path of a use', 'use "h|op.tiptoe"'],
  ['an empty file', '|'],
  ['what is no declaration', 'ho|p = D'],
])('nothing stands for %s', (_, marked) => {
  check(marked);
});

test('nothing stands in a file that is not there, or past its end', () => {
  const { analysis } = world('let hop = D');
  expect(references(analysis, 'no.tiptoe', 4)).toEqual([]);
  expect(references(analysis, 'note.tiptoe', 400)).toEqual([]);
});
