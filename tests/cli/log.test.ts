import { chmodSync, statSync, symlinkSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Folder, expectNoTrace } from './folder.js';

const GAME = `game "Kiln Runner" {
  clock 60
  settle 6
  inputs {
    U = y -1   D = y +1   L = x -1   R = x +1
    J = jump
  }
  pause P { open 4  dwell 8  resume 1 }
}
`;
const NOTE = `use "game.tiptoe"

seen {
  # The planks.
  @reed : U    -> @rush x3  # dry
  @rush : [U1] -> @tern x9
}
`;
const HEAD = 'spot,items,landing,count,notes\r\n';
const GOOD = `${HEAD}reed,U,rush,2,\r\nreed,D2,tern,,"far, ""very"""\r\nrush,D,,,\r\n`;

const folder = (sheet = GOOD, note = NOTE) =>
  new Folder({ 'game.tiptoe': GAME, 'a.tiptoe': note, 's.csv': sheet });
const log = (here: Folder, ...more: string[]) => here.run(['log', 'a.tiptoe', 's.csv', ...more]);
const TAKEN = NOTE.replace('x3', 'x5').replace('x9\n', 'x9\n  @reed : D2   -> @tern x1  # far, "very"\n'); // prettier-ignore

describe('a good sheet', () => {
  test('is taken into the log, and what was done is said', () => {
    const here = folder();
    expect(log(here)).toEqual({
      code: 0,
      out: '1 row added, 1 row raised, 1 line not filled in.\n',
      err: '',
    });
    expect(here.read('a.tiptoe')).toBe(TAKEN);
    expect(here.list()).toEqual(['a.tiptoe', 'game.tiptoe', 's.csv']);
    expect(here.run(['fmt', '--check', 'a.tiptoe']).code).toBe(0);
  });

  test.each([
    ['LF line ends', GOOD.replaceAll('\r\n', '\n')],
    ['CR line ends', GOOD.replaceAll('\r\n', '\r')],
    ['both, and no last one', GOOD.replace('\r\n', '\n').trimEnd()],
    ['a byte-order mark', `\ufeff${GOOD}`],
    ['semicolons', GOOD.replaceAll(',', ';').replace('far;', 'far,')],
    ['tabs', GOOD.replaceAll(',', '\t').replace('far\t', 'far,')],
    ['quotes around every cell', GOOD.replace('reed,U,rush,2,', '"reed","U","rush","2",""')],
    ['a line end in a cell', GOOD.replace('far, ', 'far,\r\n')],
    ['blank lines', GOOD.replaceAll('\r\n', '\r\n\r\n')],
    ['spots with @', GOOD.replaceAll('reed', '@reed')],
  ])('is read with %s', (_, sheet) => {
    const here = folder(sheet);
    expect(log(here).code).toBe(0);
    expect(here.read('a.tiptoe')).toBe(TAKEN);
  });

  test('is shown and not taken by --dry-run', () => {
    const here = folder();
    const { code, out, err } = log(here, '--dry-run');
    expect(code).toBe(0);
    expect(err).toBe(
      'tiptoe: 1 row would be added, 1 row would be raised, 1 line not filled in.\n',
    );
    expect(here.read('a.tiptoe')).toBe(NOTE);
    here.write('change.diff', out);
    const patched = here.shell('patch -p0 < change.diff');
    if (patched.error === undefined && patched.status === 0) {
      expect(here.read('a.tiptoe')).toBe(TAKEN);
    }
    const signs = out.split('\n').filter((line) => /^[-+] /.test(line));
    expect(signs).toEqual([
      '-  @reed : U    -> @rush x3  # dry',
      '+  @reed : U    -> @rush x5  # dry',
      '+  @reed : D2   -> @tern x1  # far, "very"',
    ]);
  });

  test('keeps the mode, a link, a byte-order mark and CRLF', () => {
    const note = `\ufeff${NOTE.replaceAll('\n', '\r\n')}`;
    const here = folder(GOOD, note);
    chmodSync(here.at('a.tiptoe'), 0o640);
    symlinkSync(here.at('a.tiptoe'), here.at('link.tiptoe'));
    expect(here.run(['log', 'link.tiptoe', 's.csv']).code).toBe(0);
    expect(here.read('a.tiptoe')).toBe(`\ufeff${TAKEN.replaceAll('\n', '\r\n')}`);
    expect(statSync(here.at('a.tiptoe')).mode & 0o777).toBe(0o640);
    expect(statSync(here.at('link.tiptoe')).ino).toBe(statSync(here.at('a.tiptoe')).ino);
  });

  test('that holds nothing leaves the file as it is, untouched', () => {
    const here = folder(`${HEAD}rush,D,,,later\r\n`);
    const before = statSync(here.at('a.tiptoe')).ino;
    expect(log(here)).toEqual({
      code: 0,
      out: '0 rows added, 0 rows raised, 1 line not filled in (1 with a note that stays in the sheet).\n',
      err: '',
    });
    expect(statSync(here.at('a.tiptoe')).ino).toBe(before);
  });

  test('counts twice when it is read twice, and that is said where it shows', () => {
    const here = folder(`${HEAD}reed,D,rush,2,\r\nreed,L,rush,3,\r\n`);
    expect(log(here).err).toBe('');
    const again = log(here);
    expect(again.code).toBe(0);
    expect(again.err).toContain('it counts twice now');
    expect(here.read('a.tiptoe')).toContain('@rush x6\n');
  });

  test('goes into the file that is named, not into one that it uses', () => {
    const here = folder(`${HEAD}reed,U,rush,1,\r\n`, 'use "more.tiptoe"\nspot @reed\n');
    here.write('more.tiptoe', NOTE);
    expect(log(here).code).toBe(0);
    expect(here.read('more.tiptoe')).toBe(NOTE);
    expect(here.read('a.tiptoe')).toBe(
      'use "more.tiptoe"\nspot @reed\n\nseen {\n  @reed : U -> @rush x1\n}\n',
    );
  });
});

describe('a bad line', () => {
  const BAD = `${GOOD}reed,Q,rush,1,\r\n"reed","U","rush","0","two\r\nlines"\r\nreed,U,rsh,1,\r\nreed,U\r\n`;

  test('is named by its number with the reason, and nothing is changed', () => {
    const here = folder(BAD);
    const { code, out, err } = log(here);
    expect(code).toBe(1);
    expect(out).toBe('Nothing was changed: 4 lines of the sheet cannot be read.\n');
    const lines = err.trim().split('\n');
    expect(lines.map((line) => /^tiptoe: s\.csv:(\d+): \S/.exec(line)?.[1])).toEqual(['5', '6', '8', '9']); // prettier-ignore
    expect(lines[0]).toContain('Q');
    expect(lines[1]).toContain('the count "0" is no whole number from 1 on');
    expect(lines[2]).toContain('Did you mean rush?');
    expect(lines[3]).toContain('it has 2 cells, and the header has 5');
    expect(here.read('a.tiptoe')).toBe(NOTE);
    expect(log(here, '--dry-run')).toEqual({ code, out, err });
    expectNoTrace(err);
  });

  test('is left out with --skip-bad, and listed', () => {
    const here = folder(BAD);
    const { code, out, err } = log(here, '--skip-bad');
    expect(code).toBe(1);
    expect(out).toContain('1 row added, 1 row raised');
    expect(out).toContain('4 lines left out');
    expect(err.trim().split('\n')).toHaveLength(4);
    expect(here.read('a.tiptoe')).toBe(TAKEN);
  });

  test('with a spot that nothing names is taken with --new-spots', () => {
    const here = folder(`${HEAD}reed,U,eddy,1,\r\n`);
    expect(log(here).code).toBe(1);
    expect(log(here, '--new-spots').code).toBe(0);
    expect(here.read('a.tiptoe')).toContain('  @reed : U    -> @eddy x1\n');
  });

  test.each([
    ['reed,U,rush,-1,', 'no whole number'],
    ['reed,U,,1,', 'it has a count and no landing'],
    [',U,rush,1,', 'the spot is empty'],
    ['reed,,rush,1,', 'the items is empty'],
    ['reed,U,a b,1,', '"a b" is no name of a spot'],
    ['reed,U # x,rush,1,', 'nothing else'],
    ['reed,[D0],rush,1,', 'stand too close'],
    ['reed,[D1,rush,1,', 'are none'],
    ['reed,U*1001,rush,1,', 'more than the 1000'],
    ['reed,U,rush,1,x,y', 'it has 6 cells'],
    ['reed,U,rush,1e2,', 'no whole number'],
    ['reed,U,rush,\u001b[31m1,', 'no whole number'],
    [`reed,${'x'.repeat(100000)},rush,1,`, 'are none'],
    [`reed,${'[('.repeat(20000)},rush,1,`, 'are none'],
  ])('such as %.30s', (line, words) => {
    const here = folder(`${HEAD}${line}\r\n`);
    const { code, err } = log(here);
    expect(code).toBe(1);
    expect(err).toContain(words);
    expect(err).toMatch(/^tiptoe: s\.csv:2: [^\n]*\n$/);
    expect(err).not.toMatch(/\p{Cc}(?!$)/u);
    expect(err.length).toBeLessThan(800);
    expect(here.read('a.tiptoe')).toBe(NOTE);
    expectNoTrace(err);
  });
});

describe('what cannot be', () => {
  test.each([
    ['an empty sheet', '', 'the sheet is empty'],
    ['no header', 'reed,U,rush,1,\r\n', 'there is no column "reed"'],
    ['a header that lacks a column', 'spot,items,count\r\n', 'the column landing is missing'],
    ['a column misspelled', 'spot,items,landing,cuont,notes\r\n', 'Did you mean count?'],
    ['a column twice', 'spot,spot,items,landing,count\r\n', 'is there twice'],
  ])('is %s, which --skip-bad cannot skip', (_, sheet, words) => {
    for (const more of [[], ['--skip-bad']]) {
      const here = folder(sheet);
      const { code, err } = log(here, ...more);
      expect(code).toBe(1);
      expect(err).toContain(words);
      expect(here.read('a.tiptoe')).toBe(NOTE);
      expectNoTrace(err);
    }
  });

  test.each([
    ['a quote that is not closed', `${GOOD}reed,"U,rush,1,\r\nreed,D,mud,1,\r\n`, ':5: '],
    ['text behind a quote', `${GOOD}reed,"U"D,rush,1,\r\n`, ':5: '],
    ['a quote inside a cell', `${GOOD}reed,U,rush,1,a "b"\r\n`, ':5: '],
    ['UTF-16', new Uint8Array([0xff, 0xfe, 0x73, 0x00]), 'UTF-16'],
    ['no text', new Uint8Array([0x50, 0x4b, 0x03, 0x04, 0xff, 0x00]), 'not UTF-8'],
  ])('is a sheet with %s, even with --skip-bad', (_, sheet, words) => {
    const here = folder();
    here.write('s.csv', sheet);
    const { code, out, err } = log(here, '--skip-bad');
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(words);
    expect(here.read('a.tiptoe')).toBe(NOTE);
    expectNoTrace(err);
  });

  test.each([
    ['a note that is not there', ['b.tiptoe', 's.csv'], 'there is no such file'],
    ['a sheet that is not there', ['a.tiptoe', 't.csv'], 'there is no such file'],
    ['no sheet', ['a.tiptoe'], 'it needs a'],
    ['a folder', ['a.tiptoe', '.'], 'it is a folder'],
    ['a note with errors', ['broken.tiptoe', 's.csv'], 'it has errors'],
    ['a note that uses one with errors', ['uses.tiptoe', 's.csv'], 'broken.tiptoe: it has errors'],
    ['a note that uses what is not there', ['lost.tiptoe', 's.csv'], 'it has errors'],
    ['a note without a game', ['bare.tiptoe', 's.csv'], 'no game is in sight'],
    ['a sheet over the limit', ['a.tiptoe', 's.csv', '--max-size', '100'], 'over the limit'],
  ])('is %s', (_, args, words) => {
    const files = {
      'broken.tiptoe': `${GAME}seen { @a : U -> }\n`,
      'uses.tiptoe': 'use "broken.tiptoe"\n',
      'lost.tiptoe': `use "gone.tiptoe"\n${GAME}`,
      'bare.tiptoe': 'seen { @reed : U -> @rush }\n',
    };
    const here = folder();
    for (const [name, text] of Object.entries(files)) here.write(name, text);
    const { code, out, err } = here.run(['log', ...args]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toContain(words);
    for (const [name, text] of Object.entries(files)) expect(here.read(name)).toBe(text);
    expect(here.read('a.tiptoe')).toBe(NOTE);
    expectNoTrace(err);
  });

  test('is a file that nobody may write: it stays', () => {
    const here = folder();
    chmodSync(here.at('a.tiptoe'), 0o444);
    const { code, err } = log(here);
    // Whoever may write everything may write this as well.
    if (process.getuid?.() === 0) expect(code).toBe(0);
    else {
      expect(code).toBe(2);
      expect(err).toContain('it cannot be written: no permission');
      expect(here.read('a.tiptoe')).toBe(NOTE);
    }
  });
});
