// `npm run demo`: the main job, once, on a note of the examples: its findings, then its table.
// Only the bundle is built, so that this works straight after the install.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const at = (path) => fileURLToPath(new URL(path, import.meta.url));
// A second note, if given, is one with mistakes: what the checker says of it is shown, not counted.
const [note, hasty] = process.argv.slice(2);

function start(...args) {
  const { status, error } = spawnSync(process.execPath, args, { cwd: root, stdio: 'inherit' });
  if (error) throw error;
  return status;
}

function run(...args) {
  const status = start(...args);
  // Set at once: what follows may still be worth seeing, and must not hide it.
  if (status !== 0) process.exitCode = status ?? 2;
  return status === 0;
}

function tiptoe(...args) {
  console.log(`\n$ tiptoe ${args.join(' ')}`);
  return run(at('../bin/tiptoe.cjs'), ...args);
}

if (note === undefined) {
  console.error('Give the note to show, for example: node demo.mjs examples/NOTE.tiptoe');
  process.exitCode = 2;
} else if (run(at('bundle.mjs'))) {
  tiptoe('check', note);
  if (hasty !== undefined) {
    console.log(`\n$ tiptoe check ${hasty}`);
    start(at('../bin/tiptoe.cjs'), 'check', hasty);
  }
  tiptoe('trace', note);
  tiptoe('frames', note);
}
