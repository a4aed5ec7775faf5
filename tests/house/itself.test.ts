import { describe, expect, test } from 'vitest';
import { read, trackedFiles } from './workspace.js';

/**
 * What no kept file may contain. The patterns are put together from pieces, so that this file does
 * not report itself.
 */
const STRANGERS: readonly (readonly [what: string, pattern: RegExp])[] = [
  [
    'a path of one machine',
    words('/wo', 'rk/', '|/tmp/', 'plan|/ro', 'ot/|/ho', 'me/[a-z]|/Us', 'ers/[a-z]'),
  ],
  ['the host of a registry', words('registry\\.', '(npm|yarn)|npm', 'mirror|art', 'ifactory')],
  [
    'how it is made',
    words('\\b(chat', 'gpt|clau', 'de|anth', 'ropic|ope', 'nai|cop', 'ilot|L', 'LM|A', 'I)\\b'),
  ],
  ['how it is made', words('\\b(sub', '-?agents?|ai ', 'agents?|co-auth', 'ored-by)\\b')],
];

/** A test left out or run alone, in any of the ways of the test runner. */
const LEFT_OUT = words(
  '\\b(test|it|describe|bench|suite)(\\.\\w+)*\\.(on',
  'ly|sk',
  'ip|to',
  'do|fai',
  'ls)\\b',
);

const TOP = new Set([
  'packages',
  'examples',
  'tests',
  'README.md',
  'DEVELOPERS.md',
  'LICENSE',
  'CHANGELOG.md',
  'package.json',
  'package-lock.json',
  'tsconfig.json',
  'tsconfig.base.json',
  'eslint.config.js',
  'vitest.config.ts',
  'vitest.editors.config.ts',
]);

/** One pattern out of pieces. Capitals count in it where it has any. */
function words(...pieces: string[]): RegExp {
  return new RegExp(pieces.join(''), 'g');
}

/** Where a pattern stands in a text, as `line: words`. */
function places(text: string, pattern: RegExp): string[] {
  return text
    .split('\n')
    .flatMap((line, at) => [...line.matchAll(pattern)].map(([found]) => `${at + 1}: ${found}`));
}

/** Text files only: a zero byte marks the others. */
function texts(): [path: string, text: string][] {
  return trackedFiles()
    .map((path): [string, string] => [path, read(path)])
    .filter(([, text]) => !text.includes('\0'));
}

describe('kept files', () => {
  test.each(STRANGERS)('hold nothing of %s', (_, pattern) => {
    const found = texts().flatMap(([path, text]) =>
      places(text, pattern).map((place) => `${path}:${place}`),
    );
    expect(found).toEqual([]);
  });

  test('leave no test out', () => {
    const found = texts()
      .filter(([path]) => path.startsWith('tests/') && /\.[cm]?[jt]s$/.test(path))
      .flatMap(([path, text]) => places(text, LEFT_OUT).map((place) => `${path}:${place}`));
    expect(found).toEqual([]);
  });

  test('stand in the agreed places', () => {
    const tops = new Set(trackedFiles().map((path) => path.split('/', 1)[0] ?? ''));
    expect([...tops].filter((name) => !name.startsWith('.') && !TOP.has(name))).toEqual([]);
  });
});

test('every package carries the licence of the whole', () => {
  const copies = trackedFiles().filter((path) => /^packages\/[^/]+\/package\.json$/.test(path));
  expect(copies.length).toBeGreaterThan(0);
  for (const path of copies) {
    expect(read(path.replace('package.json', 'LICENSE'))).toBe(read('LICENSE'));
  }
});

test('the lock file names no address to fetch from, only the folders of the workspace', () => {
  const lock: { packages: Record<string, { resolved?: string; link?: boolean }> } = JSON.parse(
    read('package-lock.json'),
  );
  const entries = Object.entries(lock.packages);
  const elsewhere = entries
    .filter(([, { resolved, link }]) => resolved !== undefined && link !== true)
    .map(([name]) => name);
  expect(elsewhere).toEqual([]);
  expect(entries.length).toBeGreaterThan(100);
  expect(places(read('package-lock.json'), words('"resolved": "[a-z+]+:'))).toEqual([]);
});

describe('the guards themselves', () => {
  test.each([
    [0, 'see /wo' + 'rk/x'],
    [0, "'/tmp/" + "plan'"],
    [0, 'cd /ro' + 'ot/'],
    [0, '/ho' + 'me/runner'],
    [1, 'https://registry.' + 'npmjs.org/a'],
    [2, 'asked Clau'.toLowerCase() + 'de'],
    [2, 'an A' + 'I wrote this'],
    [3, 'a sub' + 'agent'],
    [3, 'co-auth' + 'ored-by: x'],
  ])('pattern %i finds %s', (index, text) => {
    expect(places(text, STRANGERS[index]?.[1] ?? /$^/g)).toHaveLength(1);
  });

  test.each([
    'a homework',
    'the root of it',
    'AIR',
    'a workspace path: src/work.ts',
    'the agent noun',
  ])('no pattern finds anything in "%s"', (text) => {
    expect(STRANGERS.flatMap(([, pattern]) => places(text, pattern))).toEqual([]);
  });

  test('a test left out is found on its line', () => {
    const text = ['test(1)', 'test.on' + 'ly(2)', 'describe.sk' + 'ip(3)', 'it.each([]).sk' + 'ip'];
    expect(places(text.join('\n'), LEFT_OUT)).toEqual([
      '2: test.on' + 'ly',
      '3: describe.sk' + 'ip',
    ]);
  });
});
