import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { parse } from '@core/syntax/parse.js';
import { format, formatEdits } from '@core/syntax/print.js';
import { LINE_WIDTH } from '@core/syntax/print/lines.js';
import { applyEdits } from '@core/text/edit.js';
import { meaning, problemsOf } from '../support/trees.js';

/** Checks the layout of a note, and that this layout is its own. */
function check(written: string, wanted: string): void {
  const tree = parse(written);
  const once = format(tree);
  expect(once).toBe(wanted);
  expect(meaning(parse(once))).toEqual(meaning(tree));
  expect(format(parse(once))).toBe(once);
}

/** Checks that a note is in the layout already. */
function same(written: string): void {
  check(written, written);
}

describe('sequences', () => {
  test.each([
    ['joins are tight', 'D - R -DL- [ D1 ] - J', 'D-R-DL-[D1]-J'],
    [
      'repeats are tight',
      'D *8 (R D ) *2 D  *5..9 [D1]\t*2 hop *3',
      'D*8 (R D)*2 D*5..9 [D1]*2 hop*3',
    ],
    ['brackets are tight', '[ D1 ] ( D  R ) [  ] ( ) [ .1 .1 D1 ]', '[D1] (D R) [] () [.1 .1 D1]'],
    ['holds are tight', 'D & ( .4 J .3 ) D&(R)', 'D&(.4 J .3) D&(R)'],
    ['one space between items', 'D3..4   .12\t~  pace   .2  hop', 'D3..4 .12 ~ pace .2 hop'],
    ['items that touch are parted', 'D[D1](R)~hop', 'D [D1] (R) ~ hop'],
    [
      'claims by one space, notes by two',
      'D@reed"why"  R  "x"  @tern',
      'D @reed  "why" R  "x" @tern',
    ],
    ['until stands with its repeat', 'D *6+\n  until\n  @reed R', 'D*6+ until @reed R'],
    ['counts stay as they are written', 'D1 D01 .400ms D250ms', 'D1 D01 .400ms D250ms'],
    ['other blanks are blanks', 'D\u00a0\u2003R\v\fJ', 'D R J'],
  ])('%s', (_, written, wanted) => {
    check(`let a = ${written}`, `let a = ${wanted}\n`);
  });

  test('the lines of a phrase stay lines, indented', () => {
    check('let  a=\nD  R\n\n\n\n    J\n', 'let a =\n  D R\n\n  J\n');
    same('let a = D\n  R\n');
  });

  test('a join does not end a line, unless a comment does', () => {
    check('let a = D -\n  R', 'let a = D-R\n');
    check('let a = D # held\n- R', 'let a = D  # held\n  -R\n');
  });

  test('brackets over several lines indent what they hold', () => {
    check(
      'route a {\n(\nD\nR [\n.1\n\n\nD1 ]\n)*2\n}',
      'route a {\n  (\n    D\n    R [\n      .1\n\n      D1]\n  )*2\n}\n',
    );
  });
});

describe('blocks', () => {
  test('on one line stay on it where they fit', () => {
    check(
      'rescue @a in b{D   R}->@c\nhands{spread 9ms reset 14s}\nseen{}\ngame "X" {  }',
      'rescue @a in b { D R } -> @c\nhands { spread 9ms  reset 14s }\nseen {}\ngame "X" {}\n',
    );
  });

  test('are broken by the first character too many, and not before', () => {
    const items = (n: number) => `${'D '.repeat((LINE_WIDTH - 12) / 2 - 1)}${'J'.repeat(n)}`;
    same(`route a { ${items(2)} }\n`);
    expect(`route a { ${items(2)} }`).toHaveLength(LINE_WIDTH);
    check(`route a { ${items(3)} }`, `route a {\n  ${items(3)}\n}\n`);
  });

  test('of ways: one way a line once the choice is broken', () => {
    same('route a {\n  choose f { x { D }  y { R } } @b\n}\n');
    check(
      'route a{choose f{x{D}\ny{R U} z {\nD}}U}',
      'route a {\n  choose f {\n    x { D }\n    y { R U }\n    z {\n      D\n    }\n  }\n  U\n}\n',
    );
  });

  test('a long choice on one line becomes a way a line', () => {
    const way = (name: string) => `${name} { ${'D3 R '.repeat(9)}J }`;
    check(
      `let a = choose f { ${way('x')} ${way('y')} }`,
      `let a = choose f {\n    ${way('x')}\n    ${way('y')}\n  }\n`,
    );
  });

  test('a claim or note stays behind the brace of a choice, an item does not', () => {
    check(
      'route a {\nchoose f {\nx { D } } @b "why" U R\n}',
      'route a {\n  choose f {\n    x { D }\n  } @b  "why" U R\n}\n',
    );
    check(
      'route a {\nchoose f {\nx { D } } U R\n}',
      'route a {\n  choose f {\n    x { D }\n  }\n  U R\n}\n',
    );
  });

  test('empty braces close up, and blank lines at their edges go', () => {
    check('route a {\n\n}', 'route a {}\n');
    check('route a {\n\n  D\n\n\n\n  R\n\n}', 'route a {\n  D\n\n  R\n}\n');
  });
});

describe('headers', () => {
  test('are one line where they fit', () => {
    check(
      'route barrier\n  "Under it"\n from @a ,@b x3\n   to\n@c\n{\nD\n}',
      'route barrier "Under it" from @a, @b x3 to @c {\n  D\n}\n',
    );
    check(
      'spot @a at( - 4,+ 88 )"x"\nground y within(1,2)to(3 ,4){}',
      'spot @a at (-4, +88) "x"\nground y within (1, 2) to (3, 4) {}\n',
    );
  });

  test('keep the lines of their author where they do not', () => {
    const spots = (name: string) => Array.from({ length: 6 }, (_, k) => `@${name}_${k}`).join(', ');
    check(
      `route a "title" from ${spots('long_spot')},\n${spots('other')} to @z { D }`,
      `route a "title" from ${spots('long_spot')},\n    ${spots('other')} to @z { D }\n`,
    );
  });

  test('are cut by their comments', () => {
    check('route a # one\n"title" # two\n{ D }', 'route a  # one\n    "title"  # two\n{ D }\n');
  });
});

describe('columns', () => {
  test('rows by what was pressed, where it led, and how often', () => {
    check(
      'seen {\n@reed : U -> @rush x22\n@b:[U1]->@tern   x9 # seen late\n@b : U2 -> @mud\n}',
      'seen {\n  @reed : U    -> @rush x22\n  @b    : [U1] -> @tern x9  # seen late\n  @b    : U2   -> @mud\n}\n',
    );
  });

  test('a blank line begins new columns, a comment does not', () => {
    check(
      'seen {\n@reed : U -> @a\n# why\n@b : R -> @a\n\n@c : R3 -> @a\n}',
      'seen {\n  @reed : U -> @a\n  # why\n  @b    : R -> @a\n\n  @c : R3 -> @a\n}\n',
    );
  });

  test('one very long row does not move the others', () => {
    const long = 'D3 R '.repeat(12).trim();
    check(
      `seen {\n@a : ${long} -> @b\n@a : U -> @b\n@a : U2 -> @b\n}`,
      `seen {\n  @a : ${long} -> @b\n  @a : U  -> @b\n  @a : U2 -> @b\n}\n`,
    );
  });

  test('moves by what they add, cues by their text', () => {
    check(
      'ground y {\nU by (0,-13)\n[U1] by(0,-14)\n}\ngame "X" {\ncue 0 "low"\ncue 10 "high"\n}',
      'ground y {\n  U    by (0, -13)\n  [U1] by (0, -14)\n}\ngame "X" {\n  cue 0  "low"\n  cue 10 "high"\n}\n',
    );
  });

  test('inputs on a grid where several share a line, else by their parts', () => {
    check(
      'game "X" { inputs {\nU=y -1 D = y +1\nJ = jump S=strike\nW=y -0.5 "half tilt"\n} }',
      'game "X" {\n  inputs {\n    U = y -1   D = y +1\n    J = jump   S = strike\n    W = y -0.5 "half tilt"\n  }\n}\n',
    );
    check(
      'game "X" { inputs {\nU = y -1 "up"\nJ = jump "leap"\n} }',
      'game "X" {\n  inputs {\n    U = y -1 "up"\n    J = jump "leap"\n  }\n}\n',
    );
  });
});

describe('comments', () => {
  test('stay trailing, two spaces off, and end without blanks', () => {
    check('let a = D # why \t \nlet b = R\t\t#x', 'let a = D  # why\nlet b = R  #x\n');
  });

  test('on lines of their own take the indentation of what follows', () => {
    check(
      '   # file\n\n\n## doc\nroute a {# open\n# first\nD\n      # last\n}\n  # end',
      '# file\n\n## doc\nroute a {  # open\n  # first\n  D\n  # last\n}\n# end\n',
    );
  });

  test('inside brackets, joins and rows cut the line and nothing else', () => {
    check('let a = [ # window\nD1 ]', 'let a = [  # window\n    D1]\n');
    check('seen {\n@a : U # hm\n-> @b x2\n}', 'seen {\n  @a : U  # hm\n    -> @b x2\n}\n');
    check('game "X" { clock # hz\n 50 }', 'game "X" {\n  clock  # hz\n    50\n}\n');
  });

  test('alone make a note', () => {
    check('\n\n  # only this\r\n\r\n\r\n', '# only this\n');
  });
});

describe('the file', () => {
  test('nothing stays nothing', () => {
    for (const empty of ['', ' ', '\n\n', '\ufeff', '\ufeff\r\n']) check(empty, '');
  });

  test('ends with one line end, begins without a mark, and has LF inside', () => {
    check('\ufeffuse "a"\r\nuse "b"\rlet a = D\r\n\r\n\r\n', 'use "a"\nuse "b"\nlet a = D\n');
  });

  test('blank lines between declarations stay, one at most', () => {
    check('use "a"\n\n\n\nuse "b"\nuse "c"', 'use "a"\n\nuse "b"\nuse "c"\n');
  });

  test('declarations on one line get lines of their own', () => {
    check('let a = D let b = R use "x" # why', 'let a = D\nlet b = R\nuse "x"  # why\n');
  });
});

describe('a declaration with problems', () => {
  test('stays as it was written, blanks at line ends apart', () => {
    check(
      'let  a=D\nroute  b {  \r\n\tD   4 # count  \n\n\n   }\nlet  c=R',
      'let a = D\nroute  b {\n\tD   4 # count\n\n\n   }\nlet c = R\n',
    );
  });

  test('keeps the blanks of a text that is not closed', () => {
    check('use "a  \nlet  b = D', 'use "a  \nlet b = D\n');
    check('use "a  ', 'use "a  \n');
  });

  test('keeps its indentation and what shares its line', () => {
    check('use "a"\n\n\n   xyz  D )  let a=D', 'use "a"\n\n\n   xyz  D )  let a = D\n');
    check('let a=D  let b = R) ', 'let a = D\nlet b = R)\n');
  });
});

test('a note in its layout needs no edits, and one thing out of place needs one', () => {
  const tidy = 'let a = D-R  # why\n\nroute b { a*2 }\n';
  expect(formatEdits(parse(tidy))).toEqual([]);
  const at = tidy.indexOf('a*2') + 1;
  const untidy = `${tidy.slice(0, at)} ${tidy.slice(at)}`;
  expect(formatEdits(parse(untidy))).toEqual([{ span: { start: at, end: at + 1 }, text: '' }]);
});

describe('a note of the language page', () => {
  const note = readFileSync(new URL('fixtures/saltmarsh.tiptoe', import.meta.url), 'utf8');

  test('has no problems', () => {
    expect(problemsOf(parse(note))).toEqual([]);
    expect(parse(note).units.map(({ unit }) => unit.declaration.kind)).toEqual([
      'use', 'game', 'hands', 'spot', 'spot', 'let', 'seen', 'ground', 'route', 'rescue',
    ]); // prettier-ignore
  });

  test('has its layout', async () => {
    const tree = parse(note);
    const once = format(tree);
    await expect(once).toMatchFileSnapshot('fixtures/saltmarsh.formatted.tiptoe');
    expect(meaning(parse(once))).toEqual(meaning(tree));
    expect(format(parse(once))).toBe(once);
    expect(applyEdits(note, formatEdits(tree))).toBe(once);
  });
});
