import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { cleanNote } from './clean-note.js';
import type { Bench, Row } from './rows.js';
import { median } from './timing.js';

const ROUNDS = 31;
const WARM_UP = 3;

/** Whole processes, from their start to their end, in turns: the command on a short note, and Node on nothing. */
export const bench: Bench = {
  name: 'check-process',
  run(): Promise<Row[]> {
    const folder = mkdtempSync(join(tmpdir(), 'tiptoe-bench-'));
    try {
      // A copy, so that nobody's build takes the code cache away meanwhile.
      mkdirSync(join(folder, 'dist'));
      for (const file of ['bin/tiptoe.cjs', 'dist/tiptoe.cjs']) {
        cpSync(join('packages/notation-core', file), join(folder, file));
      }
      writeFileSync(join(folder, 'note.tiptoe'), cleanNote(10_000));
      const milliseconds = (args: readonly string[]): number => {
        const begin = performance.now();
        const { status, stderr } = spawnSync(process.execPath, args, {
          cwd: folder,
          stdio: ['ignore', 'ignore', 'pipe'],
          encoding: 'utf8',
        });
        if (status !== 0) throw new Error(`${args.join(' ')} ended with ${status}: ${stderr}`);
        return performance.now() - begin;
      };
      const check = ['bin/tiptoe.cjs', 'check', 'note.tiptoe'];
      const nothing = ['-e', '0'];
      const times = { check: [] as number[], nothing: [] as number[] };
      for (let round = -WARM_UP; round < ROUNDS; round++) {
        const pair = { check: milliseconds(check), nothing: milliseconds(nothing) };
        if (round < 0) continue;
        times.check.push(pair.check);
        times.nothing.push(pair.nothing);
      }
      const [ours, theirs] = [median(times.check), median(times.nothing)];
      const row: Row = {
        what: 'tiptoe check of 10 kB / node -e 0',
        measured: ours / theirs,
        target: { atMost: 1.7 },
        figures: `${ours.toFixed(0)} ms / ${theirs.toFixed(0)} ms`,
      };
      return Promise.resolve([row]);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};
