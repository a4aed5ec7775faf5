// Makes src/cli/commands.generated.ts: one entry for each file in src/cli/commands, with its name and
// summary, so that the overview needs no command's code and the bundle loads only the one asked for.
// `npm run generate` writes it; a test fails where it is stale.
import { readdirSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const folder = fileURLToPath(new URL('../src/cli/commands/', import.meta.url));
export const target = fileURLToPath(new URL('../src/cli/commands.generated.ts', import.meta.url));

/** The text that the generated file has to have. */
export async function render() {
  const files = readdirSync(folder).filter((file) => file.endsWith('.ts'));
  const entries = await Promise.all(files.sort().map(entry));
  return [
    '// Made from commands/*.ts by scripts/generate-commands.mjs (npm run generate). Do not edit.',
    "import type { CommandEntry } from './command.js';",
    '',
    'export const commands: readonly CommandEntry[] = [',
    ...entries,
    '];',
    '',
  ].join('\n');
}

async function entry(file) {
  const { name, summary } = await load(folder + file);
  if (file !== `${name}.ts`) throw new Error(`commands/${file}: it calls itself "${name}"`);
  if (!/^[^'\\\n]{1,75}[^'\\\n.]$/.test(summary)) {
    throw new Error(
      `commands/${file}: the summary is one short line without quotes or a full stop`,
    );
  }
  return [
    '  {',
    `    name: '${name}',`,
    `    summary: '${summary}',`,
    `    load: () => import('./commands/${name}.js'),`,
    '  },',
  ].join('\n');
}

/** The `command` that a file exports, by running it from its sources. */
async function load(file) {
  const { outputFiles } = await build({
    entryPoints: [file],
    bundle: true,
    write: false,
    format: 'cjs',
    platform: 'node',
    logLevel: 'error',
  });
  const module = { exports: {} };
  const run = new Function('require', 'module', 'exports', outputFiles[0].text);
  run(createRequire(import.meta.url), module, module.exports);
  return module.exports.command;
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  writeFileSync(target, await render());
}
