// npm run bench [-- NAME...]: bundles every tests/bench/*.bench.ts (loading many small modules would
// distort what is measured), runs each in a process of its own and prints one table.
// Exit code 1 where a target was missed, 2 where a name is unknown or a benchmark failed.
import { spawn } from 'node:child_process';
import { mkdirSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const here = fileURLToPath(new URL('.', import.meta.url));
const root = fileURLToPath(new URL('../..', import.meta.url));
const out = `${root}.build/bench`;

const all = readdirSync(here)
  .filter((file) => file.endsWith('.bench.ts'))
  .map((file) => file.slice(0, -'.bench.ts'.length))
  .sort();
const asked = process.argv.slice(2).filter((word) => !word.startsWith('-'));
const unknown = asked.filter((name) => !all.includes(name));
if (unknown.length > 0) {
  console.error(`no benchmark ${unknown.join(', ')}; there are: ${all.join(', ')}`);
  process.exit(2);
}
const names = asked.length > 0 ? asked : all;

mkdirSync(out, { recursive: true });
await Promise.all(names.map(bundle));

const rows = [];
for (const name of names) {
  process.stderr.write(`running ${name} …\n`);
  const found = await measure(name);
  if (found === undefined) process.exit(2);
  for (const row of found) rows.push({ bench: name, ...row });
}
print(rows);

async function bundle(name) {
  const contents = `
    import { bench } from './${name}.bench.js';
    const rows = await bench.run();
    process.send(rows, () => process.disconnect());`;
  await build({
    stdin: { contents, resolveDir: here, loader: 'ts' },
    outfile: `${out}/${name}.mjs`,
    bundle: true,
    format: 'esm',
    platform: 'node',
    target: 'node20',
    logLevel: 'error',
    alias: { '@core': `${root}packages/notation-core/src` },
    // CommonJS peers, once bundled, may ask for modules of Node.
    banner: {
      js: "import { createRequire } from 'node:module'; const require = createRequire(import.meta.url);",
    },
  });
}

function measure(name) {
  return new Promise((resolve) => {
    const child = spawn(process.execPath, ['--expose-gc', `${out}/${name}.mjs`], {
      stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
      cwd: root,
    });
    let rows;
    child.on('message', (message) => (rows = message));
    child.on('exit', () => resolve(rows));
  });
}

function print(lines) {
  const cells = lines.map(({ bench, what, measured, target, figures }) => {
    const atLeast = 'atLeast' in target;
    const bound = atLeast ? target.atLeast : target.atMost;
    const met = atLeast ? measured >= bound : measured <= bound;
    if (!met) process.exitCode = 1;
    const wanted = `${atLeast ? '≥' : '≤'} ${bound}`;
    return [bench, what, short(measured), wanted, met ? 'met' : 'MISSED', figures];
  });
  const table = [['bench', 'what', 'ratio', 'target', 'verdict', 'figures'], ...cells];
  const widths = table[0].map((_, k) => Math.max(...table.map((line) => line[k].length)));
  for (const line of table) {
    console.log(
      line
        .map((cell, k) => cell.padEnd(widths[k]))
        .join('  ')
        .trimEnd(),
    );
  }
}

function short(value) {
  return value >= 100 ? value.toFixed(0) : value >= 10 ? value.toFixed(1) : value.toFixed(2);
}
