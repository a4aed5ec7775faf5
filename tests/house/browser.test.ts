import { execFileSync } from 'node:child_process';
import { build, type BuildOptions } from 'esbuild';
import { beforeAll, describe, expect, test } from 'vitest';
import * as core from '@core/index.js';
import { browser } from '../../packages/notation-core/scripts/bundle.mjs';

/**
 * Runs an ES module in a context that has the language and nothing else: no Node, no page, and
 * no other module to import. It prints what the given expression over its exports comes to.
 */
const BARE = `
  import { readFileSync } from 'node:fs';
  import { SourceTextModule, createContext } from 'node:vm';
  const { code, expression } = JSON.parse(readFileSync(0, 'utf8'));
  const context = createContext(Object.create(null));
  const module = new SourceTextModule(code, { context });
  await module.link((name) => { throw new Error('imports ' + name); });
  await module.evaluate();
  const ask = new Function('core', 'return JSON.stringify(' + expression + ')');
  process.stdout.write(ask(module.namespace));
`;

function inBareContext(code: string, expression: string): unknown {
  const args = ['--no-warnings', '--experimental-vm-modules', '--input-type=module', '-e', BARE];
  const input = JSON.stringify({ code, expression });
  return JSON.parse(
    execFileSync(process.execPath, args, {
      input,
      encoding: 'utf8',
      stdio: ['pipe', 'pipe', 'pipe'],
    }),
  );
}

async function bundle(settings: BuildOptions): Promise<string> {
  const { outputFiles } = await build({ ...browser, ...settings, write: false });
  return outputFiles[0]?.text ?? '';
}

describe('the browser bundle', () => {
  let code: string;
  beforeAll(async () => {
    code = await bundle({});
  });

  test('loads where there is only the language, and gives the same exports', () => {
    expect(inBareContext(code, 'Object.keys(core)')).toEqual(Object.keys(core).sort());
  });

  test('parses a note as the sources do, its faults included', () => {
    const note = [
      'game "Lantern Cellar" {',
      '  clock 30',
      '  inputs D R J',
      '}',
      'route hop { D [D1]-J .2 }',
      'route faulty { 4 [ }',
      '',
    ].join('\n');
    const tree = core.parse(note);
    expect(tree.units.map(({ unit }) => unit.declaration.kind)).toContain('route');
    expect(tree.units.flatMap(({ unit }) => unit.problems)).not.toEqual([]);
    expect(inBareContext(code, `core.parse(${JSON.stringify(note)})`)).toEqual(
      JSON.parse(JSON.stringify(tree)),
    );
  });

  test('leaves no import for run time', async () => {
    const { metafile } = await build({ ...browser, write: false, metafile: true });
    const outputs = Object.values(metafile.outputs);
    expect(outputs).toHaveLength(1);
    expect(outputs.flatMap(({ imports }) => imports)).toEqual([]);
  });
});

describe('the bare context', () => {
  test('has nothing of Node', () => {
    const code = 'export const seen = [typeof process, typeof require, typeof Buffer];';
    expect(inBareContext(code, 'core.seen')).toEqual(['undefined', 'undefined', 'undefined']);
  });

  test.each([
    ['imports node:fs', "import { readFileSync } from 'node:fs'; export const a = readFileSync;"],
    ['process is not defined', 'export const a = process.version;'],
  ])('refuses a module with "%s"', (message, code) => {
    expect(() => inBareContext(code, 'core.a')).toThrow(message);
  });
});

describe('bundling for the browser fails', () => {
  test.each(["import { readFileSync } from 'node:fs'; export { readFileSync };", "import 'path';"])(
    'on %s',
    async (contents) => {
      const entry = { entryPoints: [], stdin: { contents, resolveDir: browser.absWorkingDir } };
      await expect(bundle(entry)).rejects.toThrow('Could not resolve');
    },
  );
});
