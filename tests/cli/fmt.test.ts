import { chmodSync, statSync, symlinkSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { Folder, expectNoTrace } from './folder.js';

const MESSY = 'route hop {\n D   R # roll\n   U3  \n}\n';
const NEAT = 'route hop {\n  D R  # roll\n  U3\n}\n';

describe('in place', () => {
  test('lays out, names the file, and does nothing the second time', () => {
    const folder = new Folder({ 'a.tiptoe': MESSY });
    expect(folder.run(['fmt'])).toEqual({
      code: 0,
      out: 'a.tiptoe laid out\n1 laid out, 0 laid out already.\n',
      err: '',
    });
    expect(folder.read('a.tiptoe')).toBe(NEAT);
    expect(folder.run(['fmt', 'a.tiptoe']).out).toBe('0 laid out, 1 laid out already.\n');
    expect(folder.list()).toEqual(['a.tiptoe']);
  });

  test('keeps the mode, a link, and a byte-order mark', () => {
    const folder = new Folder({ 'a.tiptoe': `\ufeff${MESSY}` });
    chmodSync(folder.at('a.tiptoe'), 0o640);
    symlinkSync(folder.at('a.tiptoe'), folder.at('link.tiptoe'));
    expect(folder.run(['fmt', 'link.tiptoe']).code).toBe(0);
    expect(folder.read('a.tiptoe')).toBe(`\ufeff${NEAT}`);
    expect(statSync(folder.at('a.tiptoe')).mode & 0o777).toBe(0o640);
    expect(statSync(folder.at('link.tiptoe')).ino).toBe(statSync(folder.at('a.tiptoe')).ino);
  });

  test('leaves a broken declaration as it is, lays out the others, and says where it is', () => {
    const folder = new Folder({ 'a.tiptoe': `${MESSY}route b {  4   [ }\n` });
    const { code, out, err } = folder.run(['fmt']);
    expect(code).toBe(1);
    expect(out).toContain('1 with errors');
    expect(err).toMatch(/^tiptoe: a\.tiptoe:5:\d+: .*left as written.*\n$/);
    expect(folder.read('a.tiptoe')).toBe(`${NEAT}route b {  4   [ }\n`);
  });
});

describe('without writing', () => {
  test.each([
    [['--check'], 1, 'a.tiptoe would change\n1 would change, 0 laid out already.\n'],
    [['--stdin'], 0, NEAT],
    [
      ['--diff'],
      1,
      [
        '--- a.tiptoe',
        '+++ a.tiptoe',
        '@@ -1,4 +1,4 @@',
        ' route hop {',
        '- D   R # roll',
        '-   U3  ',
        '+  D R  # roll',
        '+  U3',
        ' }',
        '',
      ].join('\n'),
    ],
  ])('%j', (options, code, out) => {
    const folder = new Folder({ 'a.tiptoe': MESSY });
    expect(folder.run(['fmt', ...options], { input: MESSY })).toEqual({ code, out, err: '' });
    expect(folder.read('a.tiptoe')).toBe(MESSY);
  });

  test('a diff is one that patch applies', () => {
    const folder = new Folder({ 'a.tiptoe': MESSY, 'sub/b.tiptoe': MESSY.trimEnd() });
    const { status, stderr } = folder.shell('tiptoe fmt --diff | patch -p0 && tiptoe fmt --check');
    expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
    expect(folder.read('sub/b.tiptoe')).toBe(NEAT);
  });

  test('a diff of a note with tens of thousands of changed lines ends soon, and applies', () => {
    const folder = new Folder({ 'a.tiptoe': `route r {\n${' D   R\n'.repeat(30_000)}}\n` });
    const { status } = folder.shell('tiptoe fmt --diff | patch -p0 && tiptoe fmt --check');
    expect(status).toBe(0);
  });
});

describe('what cannot be laid out', () => {
  test('is named with its reason, and the others are laid out', () => {
    const folder = new Folder({
      'good.tiptoe': MESSY,
      'latin.tiptoe': Buffer.from('route hop { D } # caf\xe9\n', 'latin1'),
      'picture.tiptoe': Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0, 0, 1),
      'wide.tiptoe': Buffer.from('\ufeffroute', 'utf16le'),
      'nul.tiptoe': 'route hop {\n D\0\n}\n',
      'large.tiptoe': `#${'x'.repeat(2000)}\n`,
      'empty/readme.txt': '',
    });
    const given = [
      'fmt',
      '.',
      'empty',
      'good.tiptoee',
      'no*.tiptoe',
      'a/b.tiptoe',
      '--max-size',
      '1K',
    ];
    const { code, err } = folder.run(given);
    expect(code).toBe(2);
    expect(err.trimEnd().split('\n').sort()).toEqual(
      [
        'tiptoe: a/b.tiptoe: there is no such file',
        'tiptoe: empty: there are no notes (*.tiptoe) in this folder',
        'tiptoe: good.tiptoee: there is no such file. Did you mean good.tiptoe?',
        'tiptoe: large.tiptoe: it is over the limit of 1024 bytes (2002 bytes); --max-size sets another',
        'tiptoe: latin.tiptoe: it is not UTF-8 (line 1); save it as UTF-8',
        'tiptoe: no*.tiptoe: no note matches this pattern',
        'tiptoe: nul.tiptoe: it is no text: line 2 holds a NUL byte',
        'tiptoe: picture.tiptoe: it is not UTF-8 (line 1); save it as UTF-8',
        'tiptoe: wide.tiptoe: it is UTF-16; save it as UTF-8',
      ].sort(),
    );
    expectNoTrace(err);
    expect(folder.read('good.tiptoe')).toBe(NEAT);
    expect(folder.read('nul.tiptoe')).toBe('route hop {\n D\0\n}\n');
  });

  test('a file that may not be written stays', () => {
    const folder = new Folder({ 'a.tiptoe': MESSY });
    chmodSync(folder.at('a.tiptoe'), 0o444);
    const { code, err } = folder.run(['fmt']);
    if (process.getuid?.() === 0) return; // Root may write everything.
    expect(code).toBe(2);
    expect(err).toBe('tiptoe: a.tiptoe: it cannot be written: no permission\n');
    expect(folder.read('a.tiptoe')).toBe(MESSY);
  });
});

describe('which files', () => {
  const files = {
    'b.tiptoe': MESSY,
    'a.tiptoe': MESSY,
    'deep/er/c.tiptoe': MESSY,
    'node_modules/x/d.tiptoe': MESSY,
    '.hidden/e.tiptoe': MESSY,
    'deep/other.txt': MESSY,
  };
  const changed = (...args: string[]) =>
    new Folder(files)
      .run(['fmt', '--check', ...args])
      .out.split('\n')
      .filter((line) => line.endsWith(' would change'))
      .map((line) => line.split(' ', 1)[0]);

  test('a folder is searched, but not node_modules nor folders with a dot', () => {
    expect(changed()).toEqual(['a.tiptoe', 'b.tiptoe', 'deep/er/c.tiptoe']);
    expect(changed('deep')).toEqual(['deep/er/c.tiptoe']);
  });

  test('a pattern is matched here, not by the shell', () => {
    expect(changed('**/*.tiptoe')).toEqual(['a.tiptoe', 'b.tiptoe', 'deep/er/c.tiptoe']);
    expect(changed('{a,zz}.tiptoe')).toEqual(['a.tiptoe']);
    expect(changed('deep/**')).toEqual(['deep/er/c.tiptoe']);
  });

  test('a file given twice is one, however it is written', () => {
    const folder = new Folder(files);
    const { out } = folder.run([
      'fmt',
      '--check',
      'a.tiptoe',
      './a.tiptoe',
      'deep/../a.tiptoe',
      folder.at('a.tiptoe'),
    ]);
    expect(out).toBe('a.tiptoe would change\n1 would change, 0 laid out already.\n');
  });

  test('a file whose name looks like a pattern is itself', () => {
    const folder = new Folder({ '[a].tiptoe': MESSY, 'a.tiptoe': MESSY });
    expect(folder.run(['fmt', '--check', '[a].tiptoe']).out).toMatch(/^\[a\]\.tiptoe would change/);
  });
});
