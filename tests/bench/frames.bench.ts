import { deepStrictEqual } from 'node:assert';
import { spawnSync } from 'node:child_process';
import { mkdtempSync, openSync, closeSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { devNull, tmpdir } from 'node:os';
import { join } from 'node:path';
import { stringify } from 'csv-stringify';
import type { Bench, Row } from './rows.js';
import { median } from './timing.js';

/** Taps, holds, waits and pauses of every kind; 61 ticks a round. */
const NOTE = `
game "Lock Keeper" {
  clock 60
  settle 3
  inputs { U = y -1 D = y +1 L = x -1 R = x +1 W = y -0.5 "half tilt" J = jump }
  pause P { open 2 dwell 3 resume 1 }
}
let step = D3 R .4
route crossing { (D [D1]-J .2 step*2 J&(R4 .2 D) .6 U5)*163935 }
`;
const TICKS = 10_000_000;
const SAMPLE = 200_000;
const ROUNDS = 5;

/** The whole command in a process of its own, its start included. */
function frames(args: readonly string[], out: string): { seconds: number; peak: number } {
  const words = ['frames', ...args, '--format', 'csv'];
  const preload = join('tests', 'bench', 'peak.cjs');
  const program = join('packages', 'notation-core', 'bin', 'tiptoe.cjs');
  const into = openSync(out, 'w');
  const begin = performance.now();
  const child = spawnSync(process.execPath, ['--require', `./${preload}`, program, ...words], {
    stdio: ['ignore', into, 'pipe'],
    encoding: 'utf8',
  });
  const seconds = (performance.now() - begin) / 1000;
  closeSync(into);
  const peak = Number(/peak (\d+) kB/.exec(child.stderr)?.[1] ?? NaN);
  if (child.status !== 0) throw new Error(`frames failed: ${child.stderr}`);
  return { seconds, peak };
}

/** The peer as its manual streams: rows in, text out. */
async function peer(rows: readonly string[][]): Promise<{ seconds: number; text: string }> {
  const begin = performance.now();
  const stream = stringify({ record_delimiter: 'windows' });
  const parts: Buffer[] = [];
  stream.on('data', (part: Buffer) => parts.push(part));
  const ended = new Promise((resolve, reject) => {
    stream.on('end', resolve);
    stream.on('error', reject);
  });
  for (const row of rows) {
    if (!stream.write(row)) await new Promise((resolve) => stream.once('drain', resolve));
  }
  stream.end();
  await ended;
  const seconds = (performance.now() - begin) / 1000;
  return { seconds, text: Buffer.concat(parts).toString() };
}

async function run(): Promise<Row[]> {
  const folder = mkdtempSync(join(tmpdir(), 'frames-'));
  try {
    const note = join(folder, 'crossing.tiptoe');
    const sample = join(folder, 'sample.csv');
    writeFileSync(note, NOTE);
    frames([note, '--to', String(SAMPLE)], sample);
    const text = readFileSync(sample, 'utf8');
    // No cell of this note needs quotes, so a split reads it; the peer's text proves that.
    const rows = text.trimEnd().split('\r\n').map((line) => line.split(',')); // prettier-ignore
    deepStrictEqual((await peer(rows)).text, text);

    const ours: number[] = [];
    const theirs: number[] = [];
    let peak = 0;
    for (let round = 0; round < ROUNDS; round++) {
      const whole = frames([note, '--to', String(TICKS)], devNull);
      ours.push(TICKS / whole.seconds);
      peak = Math.max(peak, whole.peak);
      theirs.push(rows.length / (await peer(rows)).seconds);
    }
    const [fast, slow] = [median(ours), median(theirs)];
    const millions = (speed: number) => (speed / 1e6).toFixed(2);
    return [
      {
        what: 'tiptoe frames --format csv of 10 million ticks, times the rows a second of csv-stringify',
        measured: fast / slow,
        target: { atLeast: 20 },
        figures: `${millions(fast)} against ${millions(slow)} million rows/s`,
      },
      {
        what: 'its most memory, of 150 MB',
        measured: peak / 1024 / 150,
        target: { atMost: 1 },
        figures: `${(peak / 1024).toFixed(0)} MB resident`,
      },
    ];
  } finally {
    rmSync(folder, { recursive: true });
  }
}

export const bench: Bench = { name: 'frames', run };
