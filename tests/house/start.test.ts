import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  readdirSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import Module from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { root } from './workspace.js';

/** Newer Nodes keep a code cache themselves; then the starter keeps none. */
const ownCache = !('enableCompileCache' in Module);

/** A stand-in for the command: says what it was asked, and leaves with the number it is given. */
const COMMAND = `
  const [word = 'nothing', code = '0'] = process.argv.slice(2);
  console.log(word, typeof require('node:fs').statSync, __filename.endsWith('tiptoe.cjs'));
  process.exitCode = Number(code);
`;

let folder: string;
let starter: string;
let bundle: string;

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'tiptoe-start-'));
  for (const name of ['bin', 'dist', 'caches']) mkdirSync(join(folder, name));
  starter = join(folder, 'bin/tiptoe.cjs');
  bundle = join(folder, 'dist/tiptoe.cjs');
  copyFileSync(join(root, 'packages/notation-core/bin/tiptoe.cjs'), starter);
  writeFileSync(bundle, COMMAND);
});

afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

function start(args: string[] = [], environment: NodeJS.ProcessEnv = {}) {
  const env = { PATH: process.env['PATH'], XDG_CACHE_HOME: join(folder, 'caches'), ...environment };
  const { status, stdout, stderr } = spawnSync(process.execPath, [starter, ...args], {
    env,
    encoding: 'utf8',
  });
  return { status, out: stdout.trim(), error: stderr.trim() };
}

const beside = (): string[] => readdirSync(join(folder, 'dist')).filter((f) => f !== 'tiptoe.cjs');
const cacheFile = (): string => join(folder, 'dist', beside()[0] ?? 'no cache');
const warmed = (): unknown => {
  const [head = ''] = readFileSync(cacheFile(), 'latin1').split('\n', 1);
  return JSON.parse(head).commands;
};

const fine = (word: string, status = 0) => ({ status, out: `${word} function true`, error: '' });

describe('the starter runs the bundle', () => {
  test.each([0, 1, 2])('and leaves with its exit code %i, on the first start and later', (code) => {
    for (let again = 0; again < 3; again++) {
      expect(start(['check', String(code)])).toEqual(fine('check', code));
    }
  });

  test('without any cache when the user wants none', () => {
    expect(start(['check'], { NODE_DISABLE_COMPILE_CACHE: '1' })).toEqual(fine('check'));
    expect(beside()).toEqual([]);
  });

  test('anew after the bundle has changed, though its size is the same', () => {
    expect(start(['a']).out).toBe('a function true');
    writeFileSync(bundle, COMMAND.replace('nothing', 'another'));
    utimesSync(bundle, 1, 1);
    expect(start().out).toBe('another function true');
  });

  test('where neither place can be written', () => {
    const caches = join(folder, 'caches/file');
    writeFileSync(caches, '');
    mkdirSync(join(folder, 'dist', `tiptoe.${process.version}-${process.arch}.cache`));
    for (let again = 0; again < 2; again++) {
      expect(start(['check'], { XDG_CACHE_HOME: caches })).toEqual(fine('check'));
    }
    expect(beside()).toHaveLength(1);
  });

  test('and says what to do where it is not built', () => {
    rmSync(bundle);
    const { status, error } = start();
    expect(status).toBe(2);
    expect(error).toBe('tiptoe: not built yet. Run "npm run build" in the workspace first.');
  });

  test('and shows an error of the bundle once, keeping nothing of that start', () => {
    writeFileSync(bundle, "console.log('once'); throw new Error('the bundle fell over');");
    const { status, out, error } = start();
    expect({ status, out }).toEqual({ status: 1, out: 'once' });
    expect(error).toContain('the bundle fell over');
    expect(beside()).toEqual([]);
  });

  test('and shows where a bundle is broken', () => {
    writeFileSync(bundle, 'const = 1;');
    const { status, error } = start();
    expect(status).toBe(1);
    expect(error).toContain('SyntaxError');
    expect(beside()).toEqual([]);
  });
});

describe.runIf(ownCache)('the code cache', () => {
  test('is kept beside the bundle, and learns each command that went well', () => {
    start(['check']);
    expect(warmed()).toEqual(['check']);
    start(['frames', '1']);
    start(['check']);
    expect(warmed()).toEqual(['check', 'frames']);
    expect(beside()).toHaveLength(1);
  });

  test('learns nothing from wrong usage', () => {
    start(['chekc', '2']);
    expect(beside()).toEqual([]);
  });

  test('goes among the caches of the user where the bundle cannot have it', () => {
    mkdirSync(join(folder, 'dist', `tiptoe.${process.version}-${process.arch}.cache`));
    start(['check']);
    expect(readdirSync(join(folder, 'caches/tiptoe'))).toHaveLength(1);
    expect(start(['check'])).toEqual(fine('check'));
  });

  test.each([
    ['empty', () => Buffer.alloc(0)],
    ['cut short', (whole: Buffer) => whole.subarray(0, -20)],
    ['of words', () => Buffer.from('good morning\n\n')],
    ['of another shape', () => Buffer.from('null\n')],
    [
      'for another bundle',
      (whole: Buffer) =>
        Buffer.from(whole.toString('latin1').replace('"key":"', '"key":"9'), 'latin1'),
    ],
    [
      'of data that V8 refuses',
      (whole: Buffer) => {
        const head = whole.subarray(0, whole.indexOf(10) + 1);
        return Buffer.concat([head, Buffer.alloc(whole.length - head.length, 7)]);
      },
    ],
  ])('that is %s is replaced', (_, spoil) => {
    start(['check']);
    const good = readFileSync(cacheFile());
    writeFileSync(cacheFile(), spoil(good));
    expect(start(['frames'])).toEqual(fine('frames'));
    expect(warmed()).toEqual(['frames']);
  });
});
