import { describe, expect, test } from 'vitest';
import { NotationParser } from '@core/syntax/grammar.js';
import { parse } from '@core/syntax/parse.js';
import type { SyntaxCode } from '@core/syntax/problems.js';
import { LIMITS } from '@core/text/limits.js';
import { labels, withLabels, type Label } from '../support/marks.js';
import { problemsOf } from '../support/trees.js';

/** Each problem as a label: its code, then its parameters. */
function problemLabels(text: string): Label[] {
  return problemsOf(parse(text)).map(({ code, start, end, params }) => ({
    span: { start, end },
    words: [code, ...Object.values(params)].join(' / '),
  }));
}

/** Checks that a marked text has just the problems that its labels say, just where they say. */
function check(marked: string): void {
  const { text } = labels(marked);
  expect(`\n${withLabels(text, problemLabels(text))}`).toBe(`\n${marked}`);
}

/** Texts with their problems, several in one string between lines of `----`. */
const BAD: readonly (readonly [what: string, texts: string])[] = [
  [
    'a misspelled declaration word',
    `
rout barrier {
^^^^ misspelled-word / rout / route
  D
}
let a = R
----
Route barrier { D }
^^^^^ misspelled-word / Route / route
----
gmae "X" { clock 50 }
^^^^ misspelled-word / gmae / game
----
# kept

sopt @reed
^^^^ misspelled-word / sopt / spot

----
\ufeffrout barrier { D }
 ^^^^ misspelled-word / rout / route
`,
  ],
  [
    'text that is no declaration',
    `
  rout x {}
  ^^^^^^^^^ stray-text / rout x {} / a declaration: use, game, hands, spot, let, seen, ground, route or rescue
----
shuffel "x"
^^^^^^^^^^^ stray-text / shuffel "x" / a declaration: use, game, hands, spot, let, seen, ground, route or rescue
----
D R
^^^ stray-text / D R / a declaration: use, game, hands, spot, let, seen, ground, route or rescue
let a = D

----
U = y -1
^^^^^^^^ stray-text / U = y -1 / a declaration: use, game, hands, spot, let, seen, ground, route or rescue
----
cue "\\
^^^^^^ stray-text / cue "\\ / a declaration: use, game, hands, spot, let, seen, ground, route or rescue
let a = D
----
}
^ stray-text / } / a declaration: use, game, hands, spot, let, seen, ground, route or rescue
let a = D
`,
  ],
  [
    'a text without its second quote',
    `
use "saltmarsh.tiptoe
    ^^^^^^^^^^^^^^^^^ unclosed-text
let a = D
----
route a "title { D }
        ^^^^^^^^^^^^ unclosed-text
                    ^| something-missing / { and the items of the route / route
let b = R
----
let a = D "no end
          ^^^^^^^ unclosed-text
----
let a = "\\" D
        ^^^^^ unclosed-text
----
spot @a "x
        ^^ unclosed-text

spot @b "y"
`,
  ],
  [
    'a bracket that is never closed',
    `
let a = [D R
        ^ unclosed-pause
let b = R
----
let a = (D [R
        ^ unclosed-group
           ^ unclosed-pause
----
let a = D&(R J
          ^ unclosed-group

----
let a = ([D) R]
         ^ unclosed-pause
              ^ stray-closer / ]
----
route a { (D }
          ^ unclosed-group
let b = R
----
route a {
        ^ unclosed-block / route
 D

----
route a { choose f { x { D }
        ^ unclosed-block / route
                   ^ unclosed-block / choose

----
route a { choose f { x { D 
        ^ unclosed-block / route
                   ^ unclosed-block / choose
                       ^ unclosed-block / way

----
game "X" { clock 50
         ^ unclosed-block / game
let a = D
----
seen { @a : D -> @b
     ^ unclosed-block / seen
----
ground y within (1, 2) to (3, 4) {
                                 ^ unclosed-block / ground
----
game "X" { inputs { D = y 1 }
         ^ unclosed-block / game
----
hands {
      ^ unclosed-block / hands
----
rescue @a in r { D -> @b
               ^ unclosed-block / rescue
                   ^^ stray-text / -> / an item such as D3, .12, [D1] or the name of a phrase
                        ^| something-missing / -> and the claimed spot where the route goes on / the rescue
`,
  ],
  [
    'a bracket that closes nothing',
    `
let a = D)
         ^ stray-closer / )
----
let a = D ] R
          ^ stray-closer / ]
----
let a = D }
          ^ stray-closer / }
----
route a { D ] R }
            ^ stray-closer / ]
----
let a = [D) R]
          ^ stray-closer / )
----
route a { choose f { x { (D } y { R) } } }
                         ^ unclosed-group
                                   ^ stray-closer / )
`,
  ],
  [
    'more than the declaration holds',
    `
route a { D } }
              ^ stray-text / } / a new declaration, since the route in front has ended
----
use "a" )
        ^ stray-text / ) / a new declaration, since the use in front has ended
----
spot @a }
        ^ stray-text / } / a new declaration, since the spot in front has ended
----
spot @a to
        ^^ stray-text / to / a new declaration, since the spot in front has ended
----
use "a" "b"
        ^^^ stray-text / "b" / a new declaration, since the use in front has ended
----
route a { D } D R
              ^ stray-text / D / a new declaration, since the route in front has ended
----
rescue @a in r { D } -> @b @c
                           ^^ stray-text / @c / a new declaration, since the rescue in front has ended
----
seen {} 4
        ^ stray-text / 4 / a new declaration, since the seen in front has ended
----
route a "x" "y" { D }
            ^^^ stray-text / "y" / from, to or {
----
route a from @a from @b { D }
                ^^^^ stray-text / from / to or {, since the start is given
----
route a to @a to @b { D }
              ^^ stray-text / to / {, since the goal is given
----
route a from anywhere @b { D }
                      ^^ stray-text / @b / to or {, since anywhere takes in every spot
----
spot @a "x" "y"
            ^^^ stray-text / "y" / a new declaration
----
spot @a at (1, 2) at (3, 4)
                  ^^ stray-text / at / a text in quotes, or a new declaration
----
spot @a at (1, 2, 3, 4)
                     ^ stray-text / 4 / ) after the third number
----
hands me you { spread 9ms }
        ^| something-missing / { and the settings of the hands / hands
             ^ stray-text / { / a setting such as "spread 9ms"
`,
  ],
  [
    'a number by itself',
    `
let a = D 4
          ^ stray-count / 4 / D
----
let a = 4
        ^ stray-count / 4 /
----
let a = D3 4
           ^ stray-count / 4 /
----
let a = DR 2 R
           ^ stray-count / 2 / DR
----
route a { U 5ms }
            ^^^ stray-count / 5ms / U
----
let a = ) 4
        ^ stray-closer / )
          ^ stray-count / 4 /
`,
  ],
  [
    'a sign that cannot stand here',
    `
let a = D $ R
          ^ stray-text / $ / an item such as D3, .12, [D1] or the name of a phrase
----
let a = D : R
          ^ stray-text / : / an item such as D3, .12, [D1] or the name of a phrase
----
let a = D, R
         ^ stray-text / , / an item such as D3, .12, [D1] or the name of a phrase
----
let a = D = R
          ^ stray-text / = / an item such as D3, .12, [D1] or the name of a phrase
----
let a = D ☂☂ R
          ^^ stray-text / ☂☂ / an item such as D3, .12, [D1] or the name of a phrase
----
let a = D + R
          ^ stray-text / + / an item such as D3, .12, [D1] or the name of a phrase
----
route a ( D )
        ^ stray-text / ( / a title in quotes, from, to or {
          ^ stray-text / D / a title in quotes, from, to or {
            ^ stray-text / ) / a title in quotes, from, to or {
             ^| something-missing / { and the items of the route / route
----
let a = D { R }
          ^ stray-text / { / an item, or } to end the block
----
let a = D..3
         ^^^ stray-text / ..3 / a wait such as .12 or .400ms
----
let a = *
        ^ stray-text / * / a repeat such as *8, *5..9 or *6+
----
let a = D*x
         ^ stray-text / * / a repeat such as *8, *5..9 or *6+
----
let a = .. R
        ^^ stray-text / .. / a wait such as .12 or .400ms
----
let a = @ D
        ^ stray-text / @ / a spot such as @reed
----
let a = 4D
        ^^ stray-text / 4D / a count behind a press, such as D4
----
let a = ...
        ^^^ stray-text / ... / a wait such as .12 or .400ms
----
let a = U.D
         ^^ stray-text / .D / a wait such as .12 or .400ms
----
let a = D3..
          ^^ stray-text / .. / a wait such as .12 or .400ms
----
let a = x5
        ^^ stray-text / x5 / an item such as D3, .12, [D1] or the name of a phrase
----
let a = D -> @a
          ^^ stray-text / -> / an item such as D3, .12, [D1] or the name of a phrase
----
let a = D by R
          ^^ stray-text / by / an item such as D3, .12, [D1] or the name of a phrase
----
let a = D b = R
            ^ stray-text / = / an item such as D3, .12, [D1] or the name of a phrase
`,
  ],
  [
    'a line that does not belong',
    `
game "X" { @a }
           ^^ stray-text / @a / clock, settle, pace, inputs, pause or cue
----
game "X" { clock "a" }
                 ^^^ stray-text / "a" / a number
----
game "X" { 5 }
           ^ stray-text / 5 / clock, settle, pace, inputs, pause or cue
----
game "X" { clock 50 { a 5 } }
                      ^ stray-text / a / a line such as "D = y +1"
----
game "X" { pause P { D = y } }
                     ^^^^^ stray-text / D = y / open, dwell or resume
----
game "X" { inputs { settle 4 } }
                    ^^^^^^ stray-text / settle / a line such as "D = y +1"
----
game "X" { inputs 4 { D = jump } }
                  ^ stray-text / 4 / { and the inputs
----
game "X" { pause P Q { open 1 } }
                   ^ stray-text / Q / { and the settings of the pause
----
game "X" { cue 0 1 "x" }
                 ^ stray-text / 1 / a number of frames and one text
----
game "X" { cue 0 "x" "y" }
                     ^^^ stray-text / "y" / a number of frames and one text
----
seen { D }
       ^ stray-text / D / a row such as "@reed : U -> @rush x22"
----
hands { D }
        ^ stray-text / D / a setting such as "spread 9ms"
----
hands { spread 9m }
               ^^ stray-text / 9m / a setting such as "spread 9ms"
----
hands { spread "x" }
               ^^^ stray-text / "x" / a number
`,
  ],
  [
    'a word that is neither press nor name',
    `
let a = Dfoo
        ^^^^ odd-word / Dfoo / dfoo
----
let a = D3R
        ^^^ odd-word / D3R / D3-R
----
let a = Jump
        ^^^^ odd-word / Jump / jump
----
let a = DR2U3
        ^^^^^ odd-word / DR2U3 / DR2-U3
----
let a = D_
        ^^ odd-word / D_ /
----
let a = D4.5
        ^^^^ odd-word / D4.5 / D4 .5
----
let a = (R D*2.5)
            ^^^^ odd-word / *2.5 / *2 .5
----
let a = [U.4]
         ^^^ odd-word / U.4 / U .4
`,
  ],
  [
    'a header with a part missing',
    `
use
   ^| something-missing / the path of a file in quotes / use
----
game
    ^| something-missing / the title of the game in quotes / game
    ^| something-missing / { and the settings of the game / game
----
game "X"
        ^| something-missing / { and the settings of the game / game
----
hands
     ^| something-missing / { and the settings of the hands / hands
----
spot
    ^| something-missing / the name of the spot, such as @reed / spot
----
spot @a at
          ^| something-missing / coordinates such as (412, 88) / at
----
spot @a at (1
             ^| something-missing / the second number, y / (
             ^| something-missing / ) / the coordinates
----
spot @a at ()
            ^| something-missing / two numbers, x and y / (
----
spot @a at (1, )
              ^| something-missing / the second number, y / (
----
let
   ^| something-missing / the name of the phrase / let
   ^| something-missing / = and the items of the phrase / the name
----
let a
     ^| something-missing / = and the items of the phrase / the name
----
let a =
       ^| something-missing / the items of the phrase / =
----
let = D
   ^| something-missing / the name of the phrase / let
----
let a = # D
       ^| something-missing / the items of the phrase / =
----
seen
    ^| something-missing / { and the rows of the log / seen
----
ground
      ^| something-missing / the name of the ground / ground
      ^| something-missing / { and the moves of the ground / ground
----
ground y
        ^| something-missing / { and the moves of the ground / ground
----
ground y within
               ^| something-missing / coordinates such as (412, 88) / within
               ^| something-missing / to and the opposite corner / within (…)
               ^| something-missing / { and the moves of the ground / ground
----
ground y within (1, 2)
                      ^| something-missing / to and the opposite corner / within (…)
                      ^| something-missing / { and the moves of the ground / ground
----
route
     ^| something-missing / the name of the route / route
     ^| something-missing / { and the items of the route / route
----
route a
       ^| something-missing / { and the items of the route / route
----
route a from {D}
            ^| something-missing / anywhere, or the spots to start from / from
----
route a to {D}
          ^| something-missing / the goal, such as @past / to
----
rescue
      ^| something-missing / the spot to be rescued from / rescue
      ^| something-missing / in and the name of the route / the spot
      ^| something-missing / { and the items of the rescue / rescue
      ^| something-missing / -> and the claimed spot where the route goes on / the rescue
----
rescue @a
         ^| something-missing / in and the name of the route / the spot
         ^| something-missing / { and the items of the rescue / rescue
         ^| something-missing / -> and the claimed spot where the route goes on / the rescue
----
rescue @a in
            ^| something-missing / the name of the route / in
            ^| something-missing / { and the items of the rescue / rescue
            ^| something-missing / -> and the claimed spot where the route goes on / the rescue
----
rescue @a in r { D }
                    ^| something-missing / -> and the claimed spot where the route goes on / the rescue
----
rescue @a in r { D } ->
                       ^| something-missing / -> and the claimed spot where the route goes on / the rescue
`,
  ],
  [
    'a row or move with a part missing',
    `
seen { @a }
         ^| something-missing / : and what was pressed / @a
         ^| something-missing / -> and the spot where it led / the row
----
seen { @a : D }
             ^| something-missing / -> and the spot where it led / the row
----
seen { @a : D -> }
                ^| something-missing / the spot where it led / ->
----
seen { @a : -> @b }
           ^| something-missing / what was pressed / :
----
seen { @a D -> @b }
         ^| something-missing / : and what was pressed / @a
----
seen {
  @a : D
        ^| something-missing / -> and the spot where it led / the row
  @b : R -> @c
}
----
seen { @a : D x3 }
             ^| something-missing / -> and the spot where it led / the row
----
ground y { U }
            ^| something-missing / by and what the move adds / the move
----
ground y { by (1, 2) }
          ^| something-missing / the items of the move / {
----
ground y { U by (1, 2) by (3, 4) }
                      ^| something-missing / the items of the move / )
----
ground y { U by }
               ^| something-missing / coordinates such as (412, 88) / by
`,
  ],
  [
    'a line of a game with a part missing',
    `
game "X" { inputs { D } }
                     ^| something-missing / = and what D is / D
                     ^| something-missing / an axis with its value, or a button / =
----
game "X" { inputs { D = } }
                       ^| something-missing / an axis with its value, or a button / =
----
game "X" { inputs { D jump } }
                     ^| something-missing / = and what D is / D
----
game "X" { inputs }
                 ^| something-missing / { and the inputs / inputs
----
game "X" { pause { open 4 } }
                ^| something-missing / the letter of the pause input / pause
----
game "X" { cue }
              ^| something-missing / the number of frames / cue
              ^| something-missing / what it looks like, in quotes / cue
----
game "X" { cue 0 }
              ^| something-missing / what it looks like, in quotes / cue
----
game "X" { cue "x" }
              ^| something-missing / the number of frames / cue
----
game "X" { clock 30000/ }
                       ^| something-missing / a number / /
----
game "X" { settle - }
                   ^| something-missing / a number / -
`,
  ],
  [
    'an item with a part missing',
    `
let a = pace
            ^| something-missing / a wait such as .2, or ~ / pace
----
let a = pace 4
            ^| something-missing / a wait such as .2, or ~ / pace
             ^ stray-count / 4 /
----
let a = D*3 until
                 ^| something-missing / the spot to be seen, such as @reed / until
----
let a = choose
              ^| something-missing / the name of the choice / choose
              ^| something-missing / { and the ways / choose
----
let a = choose f
                ^| something-missing / { and the ways / choose
----
let a = choose { x { D } }
              ^| something-missing / the name of the choice / choose
----
let a = choose f { }
                   ^| something-missing / a way such as "fast { U*8 }" / choose
`,
  ],
  [
    'a repeat with nothing to repeat',
    `
let a = *8
        ^^ repeat-alone / *8 / false
----
let a = D*2*3
           ^^ repeat-alone / *3 / true
----
let a = pace .2 *3
                ^^ repeat-alone / *3 / false
----
let a = (*2 D)
         ^^ repeat-alone / *2 / false
----
let a = D @a *2
             ^^ repeat-alone / *2 / false
----
let a = D- *2
         ^ join-alone / after
           ^^ repeat-alone / *2 / false
----
route a { choose f { x { D } }*2 }
                              ^^ repeat-alone / *2 / false
`,
  ],
  [
    'until without a repeat, an open repeat without until',
    `
let a = until @a
        ^^^^^^^^ until-alone / until
----
let a = D until @a
          ^^^^^^^^ until-alone / until
----
let a = D*2 until @a until @b
                     ^^^^^^^^ until-alone / until
----
let a = D*6+
         ^^^ until-alone / *6+
----
let a = D*6+ @a R
         ^^^ until-alone / *6+
----
let a = (D*6+) R
          ^^^ until-alone / *6+
----
let a = D*6+ "x" until @a
         ^^^ until-alone / *6+
                 ^^^^^^^^ until-alone / until
----
route a { D*6+ }
           ^^^ until-alone / *6+
`,
  ],
  [
    'a join with nothing on one side',
    `
let a = -D
        ^ join-alone / before
----
let a = D-
         ^ join-alone / after
----
let a = D - - R
            ^ join-alone / before
----
let a = (D-)
          ^ join-alone / after
----
let a = [-D]
         ^ join-alone / before
----
let a = D- @a R
         ^ join-alone / after
----
let a = D- "x" R
         ^ join-alone / after
----
let a = D- choose f { x { R } }
         ^ join-alone / after
----
let a = D- pace .2
         ^ join-alone / after
----
route a { D- }
           ^ join-alone / after
let b = R
`,
  ],
  [
    'a hold that holds no group',
    `
let a = D&
        ^^ hold-form / D& / D
----
let a = D& R
        ^^ hold-form / D& / D
----
let a = D3&(R)
        ^^^ hold-form / D3& / D
----
let a = &(R)
        ^ hold-form / & / D
----
let a = (D)&(R)
           ^ hold-form / & / D
----
let a = D*2&(R)
           ^ hold-form / & / D
----
let a = .4&(R)
          ^ hold-form / & / D
`,
  ],
  [
    'an item outside the ways of a choice',
    `
route a { choose f { U x { D } } }
                     ^ outside-ways / U
----
route a { choose f { x { D } "y" } }
                             ^^^ outside-ways / "y"
----
route a { choose f { x { D } @a } }
                             ^^ outside-ways / @a
----
route a { choose f { [D] x { D } } }
                     ^ outside-ways / [
`,
  ],
  [
    'a number beyond the exact range',
    `
let a = D99999999999999999999
        ^^^^^^^^^^^^^^^^^^^^^ count-too-large / D99999999999999999999 / 9007199254740991
----
let a = .9007199254740993
        ^^^^^^^^^^^^^^^^^ count-too-large / .9007199254740993 / 9007199254740991
----
let a = D1..99999999999999999
        ^^^^^^^^^^^^^^^^^^^^^ count-too-large / D1..99999999999999999 / 9007199254740991
----
let a = D*99999999999999999
         ^^^^^^^^^^^^^^^^^^ count-too-large / *99999999999999999 / 9007199254740991
----
seen { @a : D -> @b x99999999999999999999 }
                    ^^^^^^^^^^^^^^^^^^^^^ count-too-large / x99999999999999999999 / 9007199254740991
----
route a from @a x99999999999999999999 { D }
                ^^^^^^^^^^^^^^^^^^^^^ count-too-large / x99999999999999999999 / 9007199254740991
`,
  ],
];

/** What looks odd and is fine. */
const GOOD = `
let a = D let b = R
----
let a = D3..1
----
let a = D*6+ # until
  until @a
----
let a =
  D -
  R
----
let a = D&
  (R)
----
let a = [] () D&()
----
seen {}
----
game "X" {}
----
route a from @a x3 @b, @c to @d {}
----
route a to @d from anywhere "title last" { @d "a note at the start" D }
----
spot @a "x" at (1 -2) paused
----
spot @let
----
# only a comment
----

`;

/** Every code there is; the type says when one is missing. */
const CODES: Readonly<Record<SyntaxCode, true>> = {
  'misspelled-word': true,
  'unclosed-text': true,
  'unclosed-pause': true,
  'unclosed-group': true,
  'unclosed-block': true,
  'stray-closer': true,
  'stray-count': true,
  'stray-text': true,
  'odd-word': true,
  'something-missing': true,
  'repeat-alone': true,
  'until-alone': true,
  'join-alone': true,
  'hold-form': true,
  'outside-ways': true,
  'nested-too-deep': true,
  'count-too-large': true,
  'more-problems': true,
};

/** The single texts, each with its first line for a name. */
function split(texts: string): [name: string, text: string][] {
  const single = texts.slice(1, -1).split('\n----\n');
  return single.map((text) => [text.trim().split('\n', 1)[0] ?? '', text]);
}

describe.each(BAD)('%s', (_, texts) => {
  test.each(split(texts))('%s', (_name, marked) => {
    check(marked);
  });
});

describe('nothing is wrong with', () => {
  test.each(split(GOOD))('%s', (_, text) => {
    check(text);
  });
});

describe('limits', () => {
  test('brackets to the limit are taken, and one more is reported where it opens', () => {
    for (const [open, close] of [
      ['(', ')'],
      ['[', ']'],
      ['D&(', ')'],
      ['choose f { x {', '} }'],
    ] as const) {
      const brackets = open.startsWith('choose') ? 2 : 1;
      const depth = LIMITS.nesting / brackets;
      const fits = `let a = ${open.repeat(depth)} D ${close.repeat(depth)}`;
      expect(problemLabels(fits)).toEqual([]);
      const over = `let a = ${open.repeat(depth + 1)} D ${close.repeat(depth + 1)}`;
      const at = 8 + open.length * depth;
      const bracket = open.length - (brackets === 2 ? 5 : 1);
      expect(problemLabels(over)[0]).toEqual({
        span: { start: at + bracket, end: at + bracket + 1 },
        words: `nested-too-deep / ${LIMITS.nesting}`,
      });
    }
  });

  test('a declaration lists a hundred problems and then says that there are more', () => {
    const text = `let a = ${') '.repeat(500)}D`;
    const found = problemLabels(text);
    expect(found).toHaveLength(LIMITS.problemsPerDeclaration + 1);
    expect(found[LIMITS.problemsPerDeclaration]).toEqual({
      span: { start: 208, end: 209 },
      words: 'more-problems / 100',
    });
  });
});

test('every code has a text here', () => {
  const seen = new Set(
    BAD.flatMap(([, texts]) => split(texts))
      .flatMap(([, marked]) => labels(marked).labels)
      .map(({ words }) => words.split(' / ', 1)[0]),
  );
  const elsewhere = ['nested-too-deep', 'more-problems'];
  expect([...seen, ...elsewhere].sort()).toEqual(Object.keys(CODES).sort());
});

describe('a broken declaration costs only itself', () => {
  const after = 'let after = D&(R*2) @b\n';
  test.each(BAD)('%s', (what, texts) => {
    for (const [, marked] of split(texts)) {
      // A byte-order mark stands at the beginning of a file only.
      const text = labels(marked).text.replace('\ufeff', '').trimEnd();
      const tree = parse(`let before = U\n\n${text}\n${after}`);
      const last = tree.units[tree.units.length - 1]?.unit;
      expect(last).toEqual(parse(after).units[0]?.unit);
      // Text without a word of its own belongs to the phrase in front of it.
      if (what === 'text that is no declaration') continue;
      expect(tree.units[0]?.unit.text.trimEnd()).toBe('let before = U');
      expect(tree.units[0]?.unit.problems).toEqual([]);
    }
  });
});

test('the grammar itself is valid', () => {
  expect(() => new NotationParser({ skipValidations: false })).not.toThrow();
});
