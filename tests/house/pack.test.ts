import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, expect, test } from 'vitest';
import * as core from '@core/index.js';
import { read, root } from './workspace.js';

const run = promisify(execFile);
const windows = process.platform === 'win32';

/** Runs npm as a user would, outside the workspace's own npm run and its settings. */
async function npm(cwd: string, ...args: string[]): Promise<string> {
  const env = Object.fromEntries(
    Object.entries(process.env).filter(([name]) => !/^(npm_|NODE_ENV|INIT_CWD)/.test(name)),
  );
  return (await run('npm', args, { cwd, env, shell: windows })).stdout;
}

let folder: string;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tiptoe-pack-'));
  const core = join(root, 'packages/notation-core');
  const packed: [{ filename: string }] = JSON.parse(
    await npm(core, 'pack', '--json', '--pack-destination', folder),
  );
  await writeFile(join(folder, 'package.json'), '{ "name": "consumer", "type": "module" }');
  const flags = ['--prefer-offline', '--no-audit', '--no-fund'];
  await npm(folder, 'install', ...flags, join(folder, packed[0].filename));
});

afterAll(async () => {
  await rm(folder, { recursive: true, force: true });
});

test('the command works and tells the version of the package', async () => {
  const { version }: { version: string } = JSON.parse(read('packages/notation-core/package.json'));
  const command = join(folder, 'node_modules/.bin/tiptoe');
  // Three times: the first start writes the code cache, the second reads it, the third goes without.
  for (const extra of [{}, {}, { NODE_DISABLE_COMPILE_CACHE: '1' }]) {
    const env = { ...process.env, ...extra };
    const { stdout } = await run(command, ['--version'], { cwd: folder, env, shell: windows });
    expect(stdout).toContain(version);
  }
});

test('the exports are an ES module with types', async () => {
  const consumer = `
    import * as core from '@tiptoe/notation-core';
    import type * as browser from '@tiptoe/notation-core/browser';
    const names: (keyof typeof core)[] = Object.keys(core) as (keyof typeof core)[];
    export const same: typeof browser = core;
    const tree: core.Tree = core.parse('route r { D }');
    export const starts: readonly number[] = tree.units.map((placed) => placed.start);
    console.log(JSON.stringify(names));
  `;
  await writeFile(join(folder, 'consumer.ts'), consumer);
  // No skipLibCheck: the declarations must hold without the workspace's own settings.
  const flags = ['--strict', '--module', 'nodenext', '--target', 'es2022', '--types', 'node'];
  const roots = ['--typeRoots', join(root, 'node_modules/@types')];
  const tsc = join(root, 'node_modules/typescript/bin/tsc');
  await run(process.execPath, [tsc, ...flags, ...roots, 'consumer.ts'], { cwd: folder });
  const { stdout } = await run(process.execPath, ['consumer.js'], { cwd: folder });
  expect(JSON.parse(stdout)).toEqual(Object.keys(core).sort());
});

test('a wrong use of the exports does not compile', async () => {
  const wrong =
    "import { nothingOfThisName } from '@tiptoe/notation-core';\nnothingOfThisName();\n";
  await writeFile(join(folder, 'wrong.ts'), wrong);
  const tsc = join(root, 'node_modules/typescript/bin/tsc');
  const flags = ['--noEmit', '--strict', '--module', 'nodenext', '--skipLibCheck'];
  const compiling = run(process.execPath, [tsc, ...flags, 'wrong.ts'], { cwd: folder });
  await expect(compiling).rejects.toMatchObject({ code: 2 });
});

test('the package holds what it needs and nothing of its making', async () => {
  const installed = join(folder, 'node_modules/@tiptoe/notation-core');
  const { packages }: { packages: Record<string, unknown> } = JSON.parse(
    await readFile(join(folder, 'node_modules/.package-lock.json'), 'utf8'),
  );
  expect(Object.keys(packages)).toContain('node_modules/chevrotain');
  const { stdout } = await run(process.execPath, ['-p', LISTING], { cwd: installed });
  const files: string[] = JSON.parse(stdout);
  expect(files).toEqual(
    expect.arrayContaining(['package.json', 'bin/tiptoe.cjs', 'dist/tiptoe.cjs']),
  );
  expect(files).toEqual(
    expect.arrayContaining(['LICENSE', 'dist/index.d.ts', 'dist/tiptoe.browser.js']),
  );
  const strange = files.filter(
    (file) => !/^(bin|dist|schema)\/|^[\w.-]+\.(md|json)$|^LICENSE$/.test(file),
  );
  expect(strange).toEqual([]);
  expect(files.filter((file) => /\.(tsbuildinfo|tmp)$|(?<!\.d)\.ts$/.test(file))).toEqual([]);
});

const LISTING = `JSON.stringify(require('fs').readdirSync('.', { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile())
  .map((entry) => require('path').relative('.', require('path').join(entry.path, entry.name))))`;
