// Two single-file builds of the server, both from the sources, the core's included:
//   dist/tiptoe-lsp.cjs         for Node. One file starts many times faster than hundreds.
//   dist/tiptoe-lsp.browser.js  for a web worker. A `node:` import is an error.
import { mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { dirname } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const home = fileURLToPath(new URL('..', import.meta.url));
const core = fileURLToPath(new URL('../../notation-core/src/', import.meta.url));
const { version } = JSON.parse(readFileSync(new URL('../package.json', import.meta.url), 'utf8'));

/** The core from its sources, so that a bundle does not depend on what was compiled before. */
const coreSources = {
  name: 'core-sources',
  setup({ onResolve }) {
    onResolve({ filter: /^@tiptoe\/notation-core(\/.*)?$/ }, ({ path }) => {
      const part = path.slice('@tiptoe/notation-core'.length + 1);
      const file = part === '' ? 'index' : part === 'files' ? 'cli/io' : part;
      return { path: `${core}${file}.ts` };
    });
  },
};

const common = {
  absWorkingDir: home,
  bundle: true,
  minify: true,
  legalComments: 'none',
  logLevel: 'silent',
  define: { TIPTOE_VERSION: JSON.stringify(version) },
  plugins: [coreSources],
};

/** Settings of the bundle for Node: CommonJS, so that V8's code cache can hold it on Node 20. */
export const node = {
  ...common,
  entryPoints: ['src/node.ts'],
  outfile: 'dist/tiptoe-lsp.cjs',
  format: 'cjs',
  platform: 'node',
  target: 'node20',
};

/** Settings of the bundle for a web worker: a classic script, which any worker loads. */
export const browser = {
  ...common,
  entryPoints: ['src/browser.ts'],
  outfile: 'dist/tiptoe-lsp.browser.js',
  format: 'iife',
  platform: 'browser',
  target: 'es2022',
};

/** Builds and puts the file in place by renaming: whoever starts it reads the old or the new one. */
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
    await Promise.all([node, browser].map(put));
  } catch (failure) {
    console.error(failure.message);
    process.exitCode = 1;
  }
}
