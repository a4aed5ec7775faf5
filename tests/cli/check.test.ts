import { symlinkSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Folder, expectNoTrace } from './folder.js';

const GAME = `game "Lock Keeper" {
  clock 60
  settle 6
  inputs { U = y -1 D = y +1 L = x -1 R = x +1 J = jump }
}
`;
const CLEAN = `${GAME}route hop { D R U3 }\n`;
const ERROR = `${GAME}route hop { D X }\n`;
/** One warning: two presses that are one; it has a safe fix. */
const WARNING = `${GAME}route hop { D3-D2 R }\n`;
const FIXED = `${GAME}route hop { D5 R }\n`;

describe('the exit code', () => {
  test.each([
    ['nothing found', { 'a.tiptoe': CLEAN }, [], 0],
    ['an error', { 'a.tiptoe': ERROR }, [], 1],
    ['a warning', { 'a.tiptoe': WARNING }, [], 0],
    ['a warning too many', { 'a.tiptoe': WARNING }, ['--max-warnings', '0'], 1],
    ['a warning that is allowed', { 'a.tiptoe': WARNING }, ['--max-warnings', '1'], 0],
    ['text that is no notation at all', { 'a.tiptoe': '\\ ? % 🦊 ]]]' }, [], 1],
    ['an empty note', { 'a.tiptoe': '' }, [], 0],
    ['a missing file', {}, ['a.tiptoe'], 2],
    ['a folder without notes', { 'a.txt': '' }, [], 2],
    ['a missing file beside a good one', { 'a.tiptoe': CLEAN }, ['a.tiptoe', 'b.tiptoe'], 2],
    ['a missing file beside one with errors', { 'a.tiptoe': ERROR }, ['a.tiptoe', 'b.tiptoe'], 2],
    ['a file that is too large', { 'a.tiptoe': CLEAN }, ['--max-size', '10B'], 2],
    ['settings that are none', { 'a.tiptoe': CLEAN, 'tiptoe.json': '{ "rule": {} }' }, [], 2],
    ['a wrong option', {}, ['--formt', 'json'], 2],
    ['a wrong value', {}, ['--format', 'yaml'], 2],
    ['a number that is none', {}, ['--max-warnings', '-1'], 2],
  ])('after %s: %#', (_, files, args, code) => {
    const ran = new Folder(files).run(['check', ...args]);
    expect({ code: ran.code, ran }).toEqual({ code, ran });
    expectNoTrace(ran.err + ran.out);
  });
});

describe('the text', () => {
  test('shows the place, the words, the line with its marks, the reason, the way out and the rule', () => {
    const { out } = new Folder({ 'a.tiptoe': WARNING }).run(['check']);
    expect(out).toBe(
      [
        'a.tiptoe:6:13 warning: These two presses are one',
        ' 6 | route hop { D3-D2 R }',
        '   |             ^^^^^',
        '   why: Nothing lets D up between them, so the game sees one hold of 5 frames.',
        '   way out: Write D5, or a wait such as . between the two.',
        '   fix: Write D5 (tiptoe check --fix does it)',
        '   rule: merged-presses',
        '',
        '1 note checked: 1 warning.',
        '',
      ].join('\n'),
    );
  });

  test('keeps the marks under the text on a line with tabs, wide and astral characters', () => {
    const note = `${GAME}route hop {\n\t"茶室 🦊"\tX "é"\n}\n`;
    const { out } = new Folder({ 'a.tiptoe': note }).run(['check']);
    const [, , line = '', marks = ''] = /^(.*\n)*?( 7 \| .*)\n(.*)\n/.exec(out) ?? [];
    expect(line).toBe(' 7 |     "茶室 🦊"   X "é"');
    // Two columns more than characters in front of the X: the three wide signs, one of them a pair.
    expect(marks).toBe(`   | ${' '.repeat(16)}^`);
  });

  test('cuts a line of a megabyte around the span, and ends soon', () => {
    const note = `${GAME}route hop { ${'D '.repeat(250_000)}X ${'R '.repeat(250_000)}}\n`;
    const { code, out } = new Folder({ 'a.tiptoe': note }).run(['check']);
    expect(code).toBe(1);
    const shown = out.split('\n').find((line) => line.includes('X R')) ?? '';
    expect(shown).toMatch(/^ 6 \| ….* X .*…$/);
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThan(200);
  });

  test('drives no terminal with what a note holds', () => {
    const note = `${GAME}route hop { D "\u001b]0;title\u0007" X }\n`;
    const { out } = new Folder({ 'a.tiptoe': note }).run(['check']);
    expect(out).not.toMatch(/[^\n\P{Cc}]/u);
  });
});

describe('which text is read', () => {
  test.each([
    ['a byte-order mark', `\ufeff${ERROR}`],
    ['CRLF', ERROR.replaceAll('\n', '\r\n')],
    ['both', `\ufeff${ERROR.replaceAll('\n', '\r\n')}`],
  ])('%s moves no place', (_, text) => {
    const { out } = new Folder({ 'a.tiptoe': text }).run(['check']);
    expect(out).toMatch(/^a\.tiptoe:6:15 error: X /);
    expect(out).toContain('\n 6 | route hop { D X }\n   |               ^\n');
  });

  test('what cannot be read is named with the reason, and the rest is checked', () => {
    const folder = new Folder({
      'bad.tiptoe': ERROR,
      'bytes.tiptoe': Uint8Array.of(0x72, 0x0a, 0xc3, 0x28),
      'cut.tiptoe': Buffer.from('# caf\u00e9').subarray(0, -1),
      'over.tiptoe': `# ${'x'.repeat(4000)}`,
    });
    symlinkSync('loop.tiptoe', folder.at('loop.tiptoe'));
    const { code, out, err } = folder.run([
      'check',
      '.',
      'loop.tiptoe',
      'gone.tiptoe',
      '--max-size',
      '2000',
    ]);
    expect(code).toBe(2);
    expect(out).toContain('bad.tiptoe:6:15 error');
    expect(out).toMatch(/1 note checked: 1 error; 5 files not checked\.\n$/);
    expect(err.trimEnd().split('\n').sort()).toEqual([
      'tiptoe: bytes.tiptoe: it is not UTF-8 (line 2); save it as UTF-8',
      'tiptoe: cut.tiptoe: it is not UTF-8 (line 1); save it as UTF-8',
      'tiptoe: gone.tiptoe: there is no such file',
      'tiptoe: loop.tiptoe: its links lead in a circle',
      'tiptoe: over.tiptoe: it is over the limit of 2000 bytes (4002 bytes); --max-size sets another',
    ]);
  });

  test('a file given twice is checked once', () => {
    const folder = new Folder({ 'a.tiptoe': ERROR });
    const { out } = folder.run([
      'check',
      'a.tiptoe',
      './a.tiptoe',
      '.',
      '*.tiptoe',
      folder.at('a.tiptoe'),
    ]);
    expect(out).toMatch(/1 note checked: 1 error\.\n$/);
  });

  test('files use one another, in circles too, and each is reported on once', () => {
    const folder = new Folder({
      'game.tiptoe': GAME,
      'a.tiptoe': 'use "sub/b.tiptoe"\nuse "game.tiptoe"\nroute a { D X step }\n',
      'sub/b.tiptoe': 'use "../a.tiptoe"\nuse "../game.tiptoe"\nlet step = D R\n',
    });
    const { code, out } = folder.run(['check']);
    expect(code).toBe(1);
    expect(out.match(/rule: use-cycle/g)?.length).toBeGreaterThanOrEqual(1);
    expect(out.match(/X is no input/g)).toHaveLength(1);
    expect(out).toMatch(/^3 notes checked/m);
  });

  test('ten megabytes are checked, and a limit below refuses them', () => {
    const note = CLEAN + '# ten megabytes of comments\n'.repeat(380_000);
    const folder = new Folder({ 'a.tiptoe': note });
    expect(folder.run(['check']).out).toBe('1 note checked: nothing to report.\n');
    expect(folder.run(['check', '--max-size', '10M']).code).toBe(2);
  });
});

describe('standard input', () => {
  test('is a note of that name: its use lines and settings are found', () => {
    const folder = new Folder({
      'notes/game.tiptoe': GAME,
      'notes/tiptoe.json': '{ "rules": { "merged-presses": "error" } }',
    });
    const input = 'use "game.tiptoe"\nroute hop { D3-D2 R }\n';
    const { code, out } = folder.run(['check', '--stdin', '--stdin-path', 'notes/draft.tiptoe'], {
      input,
    });
    expect(code).toBe(1);
    expect(out).toMatch(/^notes\/draft\.tiptoe:2:13 error: These two presses are one\n/);
    expect(folder.list()).not.toContain('notes/draft.tiptoe');
  });

  test('is mended to standard output, with what is left beside it', () => {
    const input = `\ufeff${WARNING}route out { X }\n`;
    const { code, out, err } = new Folder().run(['check', '--stdin', '--fix'], { input });
    expect(code).toBe(1);
    expect(out).toBe(`\ufeff${FIXED}route out { X }\n`);
    expect(err).toMatch(/^stdin\.tiptoe:7:13 error: X /);
  });

  test.each([
    [
      Uint8Array.of(0xff, 0xfe, 0x41, 0),
      'tiptoe: standard input: it is UTF-16; save it as UTF-8\n',
    ],
    [Uint8Array.of(0x80), 'tiptoe: standard input: it is not UTF-8 (line 1); save it as UTF-8\n'],
  ])('that is no text is refused: %#', (input, err) => {
    const ran = new Folder().run(['check', '--stdin'], { input });
    expect({ code: ran.code, err: ran.err }).toEqual({ code: 2, err });
  });

  test.each([
    [
      ['--stdin', 'a.tiptoe'],
      '--stdin: no file can be named beside it. Use --stdin-path for the name.',
    ],
    [['--stdin-path', 'a.tiptoe'], '--stdin-path: it needs --stdin. Add --stdin.'],
    [['--stdin', '--watch'], '--watch: it does not go with --stdin'],
  ])('%j', (args, line) => {
    const { code, err } = new Folder().run(['check', ...args]);
    expect({ code, err }).toEqual({ code: 2, err: `tiptoe: ${line}\n` });
  });
});

describe('settings', () => {
  test('are those of the nearest tiptoe.json above each note', () => {
    const folder = new Folder({
      'a.tiptoe': WARNING,
      'deep/b.tiptoe': WARNING,
      'deep/er/c.tiptoe': WARNING,
      'tiptoe.json': '{ "rules": { "merged-presses": "note" } }',
      'deep/tiptoe.json': '{ "rules": { "merged-presses": "error" } }',
    });
    const heads = (...args: string[]) =>
      folder
        .run(['check', ...args])
        .out.split('\n')
        .filter((line) => /^\S+:\d+:\d+ /.test(line))
        .map((line) => line.split(':', 4).slice(0, 3).join(':'));
    expect(heads()).toEqual([
      'a.tiptoe:6:13 note',
      'deep/b.tiptoe:6:13 error',
      'deep/er/c.tiptoe:6:13 error',
    ]);
    folder.write('mine.json', '{ "rules": { "merged-presses": "off" } }');
    expect(heads('--config', 'mine.json')).toEqual([]);
  });

  test.each([
    ['{', 'tiptoe.json:1:2: This is no JSON: '],
    [
      '{ "rules": { "mergedpresses": "off" } }',
      'tiptoe.json:1:14: mergedpresses is no rule. Did you mean merged-presses?',
    ],
    [
      '{\n  "limits": { "tapsPerSecond": "fast" }\n}',
      'tiptoe.json:2:32: tapsPerSecond cannot be this. ',
    ],
    ['\u0000', 'tiptoe.json: it is no text: line 1 holds a NUL byte'],
  ])('%j are refused at their place', (json, start) => {
    const { code, err } = new Folder({ 'a.tiptoe': CLEAN, 'tiptoe.json': json }).run(['check']);
    expect(code).toBe(2);
    expect(err.startsWith(`tiptoe: ${start}`) || err).toBe(true);
    expect(err.trimEnd()).not.toContain('\n');
  });

  test('that were named and are not there are refused', () => {
    const { code, err } = new Folder({ 'a.tiptoe': CLEAN }).run(['check', '--config', 'no.json']);
    expect({ code, err }).toEqual({ code: 2, err: 'tiptoe: no.json: there is no such file\n' });
  });
});

describe('--fix', () => {
  test('mends in place what is safe, says how much, and leaves the rest', () => {
    const folder = new Folder({
      'a.tiptoe': `\ufeff${WARNING}route out { X }\n`,
      'b.tiptoe': CLEAN,
    });
    const { code, out } = folder.run(['check', '--fix']);
    expect(code).toBe(1);
    expect(out).toMatch(/2 notes checked: 1 error; 1 mended\.\n$/);
    expect(folder.read('a.tiptoe')).toBe(`\ufeff${FIXED}route out { X }\n`);
    expect(folder.read('b.tiptoe')).toBe(CLEAN);
    expect(folder.run(['check', '--fix']).out).not.toContain('mended');
  });

  test('touches no note that is only used', () => {
    const folder = new Folder({
      'a.tiptoe': 'use "b.tiptoe"\nroute r { step }\n',
      'b.tiptoe': `${GAME}let step = D3-D2 R\n`,
    });
    const before = folder.read('b.tiptoe');
    expect(folder.run(['check', 'a.tiptoe', '--fix']).code).toBe(0);
    expect(folder.read('b.tiptoe')).toBe(before);
  });
});

describe('--output', () => {
  test('writes a whole file, refuses one that exists, and replaces it with --force', () => {
    const folder = new Folder({ 'a.tiptoe': ERROR });
    expect(folder.run(['check', '-o', 'out.txt'])).toEqual({ code: 1, out: '', err: '' });
    expect(folder.read('out.txt')).toMatch(/^a\.tiptoe:6:15 error/);
    folder.write('out.txt', 'mine');
    const refused = folder.run(['check', '--output', 'out.txt']);
    expect(refused).toEqual({
      code: 2,
      out: '',
      err: 'tiptoe: out.txt: it exists already. Name another file, or give --force to replace it.\n',
    });
    expect(folder.read('out.txt')).toBe('mine');
    expect(folder.run(['check', '-o', 'out.txt', '--force']).code).toBe(1);
    expect(folder.read('out.txt')).toMatch(/^a\.tiptoe:6:15 error/);
    expect(folder.list()).toEqual(['a.tiptoe', 'out.txt']);
  });

  test.each([
    ['no/such/out.txt', 'it cannot be written: there is no such folder'],
    ['.', 'it is a folder, not a file'],
    ['a.tiptoe/out.txt', 'it cannot be written: a part of its path is a file, not a folder'],
  ])('to %s is refused with the reason', (path, reason) => {
    const { code, err } = new Folder({ 'a.tiptoe': CLEAN }).run(['check', '-o', path]);
    expect({ code, err }).toEqual({ code: 2, err: `tiptoe: ${path}: ${reason}\n` });
  });

  test('to a device leaves the device', () => {
    const { status, stdout } = new Folder({ 'a.tiptoe': ERROR }).shell(
      'tiptoe check -o /dev/stdout | head -n 1; test -c /dev/null',
    );
    expect(status).toBe(0);
    expect(stdout).toMatch(/^a\.tiptoe:6:15 error/);
  });
});

test('a thousand notes are no trouble, and a lost reader no word', () => {
  const files = Object.fromEntries(Array.from({ length: 1000 }, (_, k) => [`n${k}.tiptoe`, ERROR]));
  const folder = new Folder(files);
  expect(folder.run(['check']).out).toMatch(/1000 notes checked: 1000 errors\.\n$/);
  const { stdout, stderr } = folder.shell('tiptoe check | head -n 1; echo "code ${PIPESTATUS[0]}"');
  expect(stderr).toBe('');
  expect(stdout).toMatch(/error: X .*\ncode 1\n$/);
});
