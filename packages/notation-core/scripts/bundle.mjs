// Two single-file builds of the core, both from the sources:
//   dist/tiptoe.cjs         the command line. One file, because resolving hundreds of small modules
//                           costs more than everything else the command does with a short note.
//   dist/tiptoe.browser.js  the same core for a page or a web worker. A `node:` import is an error.
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const home = fileURLToPath(new URL('..', import.meta.url));
const { version } = JSON.parse(readFileSync(new URL('../package.json', import.meta.url), 'utf8'));

const common = {
  absWorkingDir: home,
  bundle: true,
  minify: true,
  legalComments: 'none',
  logLevel: 'silent',
};

/**
 * Settings of the command line's bundle. CommonJS, because a code cache can hold a script but not an
 * ES module on Node 20. Dynamic imports become lazy parts of the one file: a command's code does
 * not run before the command is asked for.
 */
export const commandLine = {
  ...common,
  entryPoints: ['src/cli/main.ts'],
  outfile: 'dist/tiptoe.cjs',
  format: 'cjs',
  platform: 'node',
  target: 'node20',
  // A library that makes a `require` for itself takes a path as well as an address.
  define: { TIPTOE_VERSION: JSON.stringify(version), 'import.meta.url': '__filename' },
  supported: { 'dynamic-import': false },
  plugins: [{ name: 'no-children', setup: noChildren }],
};

/** The parser of options could start other programs as subcommands. Ours never do: spare their loading. */
function noChildren({ onResolve, onLoad }) {
  onResolve({ filter: /^node:child_process$/ }, ({ importer, path }) =>
    /[\\/]commander[\\/]/.test(importer) ? { path, namespace: 'none' } : undefined,
  );
  onLoad({ filter: /.*/, namespace: 'none' }, () => ({ contents: 'module.exports = {};' }));
}

/** Settings of the browser's bundle: an ES module without anything of Node. */
export const browser = {
  ...common,
  entryPoints: ['src/index.ts'],
  outfile: 'dist/tiptoe.browser.js',
  format: 'esm',
  platform: 'browser',
  target: 'es2022',
};

/**
 * Builds and puts the file in place by renaming: a command that is starting just now reads the old
 * file or the new one, never half of one. An unchanged file stays, and so does its code cache.
 */
async function put(settings) {
  const { outputFiles } = await build({ ...settings, write: false });
  for (const { path, contents } of outputFiles) {
    if (same(path, contents)) continue;
    const draft = `${path}.${process.pid}.tmp`;
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(draft, contents);
    renameSync(draft, path);
  }
}

function same(path, contents) {
  try {
    return readFileSync(path).equals(contents);
  } catch {
    return false;
  }
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  try {
    await Promise.all([commandLine, browser].map(put));
  } catch (failure) {
    console.error(failure.message);
    process.exitCode = 1;
  }
}
