import { readdirSync } from 'node:fs';
import { setTimeout as after } from 'node:timers/promises';
import { expect, test } from 'vitest';
import { Folder } from './folder.js';

const GAME = 'game "Lock Keeper" {\n  clock 60\n  settle 6\n  inputs { D = y +1 R = x +1 }\n}\n';

/** The exit code as a shell reports it: 128 and the number of a signal that ended the process. */
function shellCode(code: number | null, signal: NodeJS.Signals | null): number | null {
  return signal === 'SIGINT' ? 130 : code;
}

test('Ctrl-C ends a table that is being written to a file, which leaves nothing behind', async () => {
  const folder = new Folder({ 'a.tiptoe': `${GAME}route r { (D R)*100000000 }\n` });
  const child = folder.start(['frames', 'a.tiptoe', '--format', 'csv', '-o', 'out.csv']);
  const ended = new Promise<number | null>((resolve) => {
    child.on('exit', (code, signal) => resolve(shellCode(code, signal)));
  });
  const draft = () => readdirSync(folder.path).find((name) => name.endsWith('.tmp'));
  while (draft() === undefined && child.exitCode === null) await after(5);
  child.kill('SIGINT');
  expect(await ended).toBe(130);
  expect(folder.list()).toEqual(['a.tiptoe']);
});

test('Ctrl-C ends a long check', async () => {
  const folder = new Folder({ 'a.tiptoe': GAME + 'route r { D R }\n'.repeat(200_000) });
  const child = folder.start(['check']);
  const ended = new Promise<number | null>((resolve) => {
    child.on('exit', (code, signal) => resolve(shellCode(code, signal)));
  });
  await new Promise((resolve) => child.on('spawn', resolve));
  child.kill('SIGINT');
  expect(await ended).toBe(130);
  expect(folder.list()).toEqual(['a.tiptoe']);
});

// `script` gives the command a terminal, as a person has.
test('work of over a second is told on a terminal, on standard error, and taken away again', () => {
  const files = Object.fromEntries(
    Array.from({ length: 60 }, (_, k) => [
      `n${k}.tiptoe`,
      GAME + 'route r { D   R }\n'.repeat(6000),
    ]),
  );
  const folder = new Folder(files);
  const { stdout } = folder.shell(
    `export -f tiptoe; script -qec 'bash -c "tiptoe fmt --check > /dev/null"' /dev/null < /dev/null`,
  );
  expect(stdout).toMatch(/laying out notes: \d+ % \(\d+\)/);
  expect(stdout.endsWith('\r\u001b[K')).toBe(true);
  expect(folder.shell('tiptoe fmt --check > /dev/null').stderr).toBe('');
});
