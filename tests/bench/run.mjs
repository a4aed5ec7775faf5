// Runs the benchmarks one after the other, each in a process of its own: `npm run bench [name ...]`.
// They are bundled and run by plain Node: the test runner rewrites every import into a property
// read, which would be measured as well.
import { spawnSync } from 'node:child_process';
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('../..', import.meta.url));
const here = join(root, 'tests/bench');
const wanted = process.argv.slice(2);
const benches = readdirSync(here)
  .filter((file) => file.endsWith('.bench.ts'))
  .map((file) => file.slice(0, -'.bench.ts'.length))
  .filter((name) => wanted.length === 0 || wanted.includes(name))
  .sort();

if (benches.length === 0) {
  console.error(
    `No benchmark of that name. They are the files ${join('tests/bench', '*.bench.ts')}.`,
  );
  process.exitCode = 2;
}

for (const name of benches) {
  const outfile = join(root, '.build/bench', `${name}.mjs`);
  await build({
    absWorkingDir: root,
    entryPoints: [join(here, `${name}.bench.ts`)],
    outfile,
    alias: { '@core': join(root, 'packages/notation-core/src') },
    bundle: true,
    packages: 'external',
    format: 'esm',
    platform: 'node',
    target: 'node20',
  });
  console.log(`\n== ${name}`);
  const { status } = spawnSync(process.execPath, ['--expose-gc', outfile], {
    cwd: root,
    stdio: 'inherit',
  });
  if (status !== 0) process.exitCode = 1;
}
