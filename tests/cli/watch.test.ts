import { renameSync } from 'node:fs';
import { expect, test } from 'vitest';
import { Folder } from './folder.js';

const GAME = 'game "Lock Keeper" {\n  clock 60\n  settle 6\n  inputs { D = y +1 R = x +1 }\n}\n';
const CLEAN = `${GAME}route hop { D R }\n`;
const ERROR = `${GAME}route hop { D X }\n`;

/** A running check, and a way to wait until it has said something. */
function started(folder: Folder, ...args: string[]) {
  const child = folder.start(['check', '--watch', ...args]);
  let said = '';
  let wake = (): void => undefined;
  for (const stream of [child.stdout, child.stderr]) {
    stream.setEncoding('utf8');
    stream.on('data', (part: string) => {
      said += part;
      wake();
    });
  }
  const ended = new Promise<number | null>((resolve) => {
    child.on('exit', (code) => {
      resolve(code);
      wake();
    });
  });
  return {
    child,
    ended,
    /** Waits for a pattern after what was waited for before. */
    async until(pattern: RegExp): Promise<string> {
      for (;;) {
        const found = pattern.exec(said);
        if (found !== null) {
          said = said.slice(found.index + found[0].length);
          return found[0];
        }
        if (child.exitCode !== null) throw new Error(`ended with ${child.exitCode}: ${said}`);
        await new Promise<void>((resolve) => (wake = resolve));
      }
    },
  };
}

test('checks again after each change, of a new and of a used note and of the settings, until Ctrl-C', async () => {
  const folder = new Folder({ 'a.tiptoe': CLEAN });
  const run = started(folder);
  await run.until(/1 note checked: nothing to report\.\n/);
  folder.write('a.tiptoe', ERROR);
  await run.until(/1 note checked: 1 error\.\n/);
  // As editors save: a new file, renamed into the old one's place.
  folder.write('draft', CLEAN);
  renameSync(folder.at('draft'), folder.at('a.tiptoe'));
  await run.until(/1 note checked: nothing to report\.\n/);
  folder.write('deep/b.tiptoe', ERROR);
  folder.write('c.tiptoe', CLEAN);
  await run.until(/3 notes checked: 1 error\.\n/);
  folder.write('deep/b.tiptoe', CLEAN);
  await run.until(/3 notes checked: nothing to report\.\n/);
  folder.write('tiptoe.json', '{');
  await run.until(/tiptoe: tiptoe\.json:1:2: /);
  folder.write('tiptoe.json', '{}');
  await run.until(/3 notes checked: nothing to report\.\n/);
  run.child.kill('SIGINT');
  expect(await run.ended).toBe(130);
});

test('sleeps between changes', async () => {
  const folder = new Folder({ 'a.tiptoe': CLEAN });
  const run = started(folder, 'a.tiptoe');
  await run.until(/1 note checked/);
  // Nothing of ours: it is told, and looks no further.
  folder.write('other.txt', 'x');
  folder.write('a.tiptoe', ERROR);
  await run.until(/1 note checked: 1 error\.\n/);
  run.child.kill('SIGINT');
  expect(await run.ended).toBe(130);
  // Whatever was said since, no check was made without a change.
  await expect(run.until(/notes? checked/)).rejects.toThrow('ended with 130');
});
