// Makes the tables of the project's README between their marks: the commands and the rules.
// `npm run generate` writes them; a test fails where they are stale.
import { readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const home = fileURLToPath(new URL('..', import.meta.url));
export const target = fileURLToPath(new URL('../../../README.md', import.meta.url));

async function load(entry) {
  const { outputFiles } = await build({
    absWorkingDir: home,
    entryPoints: [entry],
    bundle: true,
    format: 'esm',
    platform: 'node',
    external: ['./commands/*'],
    write: false,
    logLevel: 'silent',
  });
  const code = Buffer.from(outputFiles[0].contents).toString('base64');
  return import(`data:text/javascript;base64,${code}`);
}

function cell(text) {
  return text.replace(/\|/g, '\\|');
}

async function commandsTable() {
  const { commands } = await load('src/cli/commands.generated.ts');
  const rows = commands.map(({ name, summary }) => `| \`tiptoe ${name}\` | ${cell(summary)} |`);
  return ['| command | does |', '| --- | --- |', ...rows].join('\n');
}

async function rulesTable() {
  const { RULES } = await load('src/rules/registry.ts');
  const rows = RULES.map(
    ({ name, severity, title }) => `| \`${name}\` | ${severity} | ${cell(title)} |`,
  );
  return ['| rule | | says |', '| --- | --- | --- |', ...rows].join('\n');
}

/** The README with its tables made anew. */
export async function render(text = readFileSync(target, 'utf8')) {
  return between(between(text, 'commands', await commandsTable()), 'rules', await rulesTable());
}

function between(text, mark, body) {
  const made = new RegExp(`(<!-- ${mark}:[^>]*-->\\n)[\\s\\S]*?(<!-- /${mark} -->)`);
  if (!made.test(text)) throw new Error(`README.md has no place marked ${mark}`);
  return text.replace(made, (_, open, close) => `${open}\n${body}\n\n${close}`);
}

if (process.argv[1] && import.meta.url === pathToFileURL(process.argv[1]).href) {
  writeFileSync(target, await render());
}
