import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { folderOfNotes, SERVER } from './notes.js';

/** Emacs from the distribution with eglot, in batch. */
const SESSION = fileURLToPath(new URL('emacs/session.el', import.meta.url));

interface Seen {
  readonly problem?: string;
  readonly findings: readonly { line: number; text: string }[];
  readonly hover: string;
  readonly completion: readonly string[];
  readonly definition: string;
  readonly stopped: boolean;
}

describe('Emacs', () => {
  const folder = folderOfNotes();
  let seen: Seen;

  beforeAll(() => {
    const result = join(folder.path, 'seen.json');
    const run = spawnSync('emacs', ['--batch', '-q', '--no-site-file', '--load', SESSION], {
      cwd: folder.path,
      env: {
        ...process.env,
        HOME: folder.path,
        TIPTOE_RESULT: result,
        TIPTOE_SERVER: SERVER,
        TIPTOE_NODE: process.execPath,
      },
      encoding: 'utf8',
    });
    if (run.error) throw run.error;
    seen = JSON.parse(readFileSync(result, 'utf8')) as Seen;
    expect(seen.problem, run.stderr).toBeUndefined();
  }, 240_000);

  afterAll(() => {
    folder.remove();
  });

  test('shows findings where they are', () => {
    const wrong = seen.findings.find(({ text }) => text.includes('claim_nobody_knows'));
    expect(wrong?.line).toBe(15);
  });

  test('says on hover what an item is', () => {
    expect(seen.hover).toContain('1 frame');
  });

  test('completes names', () => {
    expect(seen.completion.map((each) => each.trim())).toContain('climb');
  });

  test('goes to the definition in another file', () => {
    expect(seen.definition).toContain('phrases.tiptoe');
    expect(seen.stopped).toBe(true);
  });
});
