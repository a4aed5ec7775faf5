import { expect, test } from 'vitest';
import { declaration, definition, typeDefinition } from '@core/ide/definition.js';
import type { Analysis } from '@core/ide/analysis.js';
import { draw, GAME, world } from './world.js';

type Feature = typeof definition;

/** `«…»` is where it leads, `‹…›` what is around that and not the same. */
function check(marked: string, feature: Feature = definition): void {
  const { analysis, texts, path, offset, wanted } = world(marked);
  expect(draw(texts, spansOf(feature, analysis, path, offset))).toEqual(wanted);
}

function spansOf(feature: Feature, analysis: Analysis, path: string, offset: number) {
  const found = feature(analysis, path, offset);
  return (found?.targets ?? []).flatMap((target) => [
    { path: target.path, ...target.whole, second: true },
    { path: target.path, start: target.start, end: target.end },
  ]);
}

test('a phrase, and the phrase itself', () => {
  check('‹let «hop» = U›\nroute over { D ho|p*2 }');
  check('‹let «h|op» = U›\nroute over { D hop*2 }');
});

test('the origin is the name that the cursor touches', () => {
  const { analysis, path, offset, texts } = world('let hop = U\nroute over { D ho|p*2 }');
  const origin = definition(analysis, path, offset)?.origin;
  expect(texts.get(path)?.slice(origin?.start, origin?.end)).toBe('hop');
});

test('a route from its rescue', () => {
  check('‹route «over» { U }›\nrescue @lamp in ov|er { D } -> @pier');
});

test('a spot that is declared, in another file too', () => {
  check('seen { @lamp : U -> @pier }\n‹spot @«lamp» "lit"›\nroute over to @la|mp { U }');
  check(`
//- log.tiptoe
seen { @lamp : U -> @pier }
‹spot @«lamp»›
//- sub/note.tiptoe
use "../log.tiptoe"
route over { U @lam|p }
`);
});

test('a spot of the log from the first row that names it', () => {
  check(
    'seen { @pier : D -> @post  ‹@pier : U -> @«lamp» x3› @lamp : U -> @pier }\nroute a { U @la|mp }',
  );
});

test('the log in sight comes before others', () => {
  check(`
//- a.tiptoe
seen { @lamp : U -> @pier }
//- b.tiptoe
seen { ‹@«lamp» : D -> @pier› }
route over { U @la|mp }
//- all.tiptoe
use "a.tiptoe"
use "b.tiptoe"
`);
});

test('a spot that is only a goal from the route that it is the goal of', () => {
  check('route b { U @la|mp }\n‹route over from @lamp to @«lamp» { D }›');
});

test('a declaration that only users of the file bring in', () => {
  check(`
//- log.tiptoe
seen { @la|mp : U -> @pier }
//- note.tiptoe
use "log.tiptoe"
‹spot @«lamp»›
`);
});

test('an input from the line of its letter', () => {
  check(`
//- game.tiptoe
game "Pier" {
  inputs { ‹«D» = y +1 "down"›  R = x +1 }
}
//- note.tiptoe
use "game.tiptoe"
route over { RD|3 }
`);
});

test('the pause input from its block', () => {
  check('game "Pier" { ‹pause «P» { open 4 }› }\nroute over { P| }');
});

test('of two games the one in force', () => {
  check(`
//- old.tiptoe
game "Old" { inputs { D = y +1 } }
//- note.tiptoe
use "old.tiptoe"
game "New" { inputs { ‹«D» = y +2› } }
route over { D| }
`);
});

test('both where a name is given twice', () => {
  check('‹let «hop» = U›\n‹let «hop» = D›\nroute over { ho|p }');
});

test('the file of a use', () => {
  const { analysis, path, offset } = world(
    '//- note.tiptoe\nuse "sub/lo|g.tiptoe"\n//- sub/log.tiptoe\nlet a = U',
  );
  const nowhere = { start: 0, end: 0 };
  expect(definition(analysis, path, offset)?.targets).toEqual([
    { path: 'sub/log.tiptoe', ...nowhere, whole: nowhere },
  ]);
});

test('choices, ways, grounds, hands and axes lead to themselves', () => {
  check('‹route over { choose «f|ar» { a { U } } }›');
  check('‹route over { choose far { «a|» { U } a2 { D } } }›');
  check('‹ground «de|ck» { U by (0, 1) }›');
  check('‹hands «ti|red» { reset 14s }›');
  check('game "P" { inputs { ‹D = «y» +1›  U = y| -1 } }');
});

test('in broken text', () => {
  check('‹let «hop» = (U›\nroute over { [ D ho|p*');
});

test.each([
  ['an unknown phrase', 'route over { ho|p }'],
  ['an unknown spot', 'route over { U @la|mp }'],
  ['an input without a game', 'route over { U| }'],
  ['a letter that the game does not have', `${GAME}\nroute over { K| }`],
  ['a route that is not there', 'rescue @lamp in ov|er { U } -> @pier'],
  ['a use that leads nowhere', 'use "lo|g.tiptoe"'],
  ['a keyword', 'le|t hop = U'],
  ['a comment', 'let hop = U # h|op'],
  [
    'a phrase of a file that is not used',
    '//- a.tiptoe\nroute a { ho|p }\n//- b.tiptoe\nlet hop = U',
  ],
])('nothing for %s', (_, marked) => {
  check(marked);
});

test('the declaration of a spot is never a row of the log', () => {
  check('seen { @lamp : U -> @pier }\nroute a { U @la|mp }', declaration);
  check('seen { @lamp : U -> @pier }\n‹spot @«lamp»›\nroute a { U @la|mp }', declaration);
});

test('the type of an input is its game', () => {
  check('‹game «"Pier"» { inputs { D = y +1 } }›\nroute over { D|3 }', typeDefinition);
  check('‹«game» { inputs { D = y +1 } }›\nroute over { D|3 }', typeDefinition);
  check('‹game «"Pier"» { pause P| { open 4 } }›', typeDefinition);
});

test.each(['let hop = U\nroute a { ho|p }', 'spot @la|mp', 'route a { D| }'])(
  'nothing else has a type: %s',
  (marked) => {
    check(marked, typeDefinition);
  },
);
