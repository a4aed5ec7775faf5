// Two single-file builds of the core, both from the sources:
//   dist/tiptoe.cjs         the command line. One file, because resolving hundreds of small modules
//                           costs more than everything else the command does with a short note.
//   dist/tiptoe.browser.js  the same core for a page or a web worker. A `node:` import is an error.
import { readFileSync } from 'node:fs';
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
  define: { TIPTOE_VERSION: JSON.stringify(version) },
  supported: { 'dynamic-import': false },
};

/** Settings of the browser's bundle: an ES module without anything of Node. */
export const browser = {
  ...common,
  entryPoints: ['src/index.ts'],
  outfile: 'dist/tiptoe.browser.js',
  format: 'esm',
  platform: 'browser',
  target: 'es2022',
};

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  try {
    await Promise.all([commandLine, browser].map((settings) => build(settings)));
  } catch (failure) {
    console.error(failure.message);
    process.exitCode = 1;
  }
}
