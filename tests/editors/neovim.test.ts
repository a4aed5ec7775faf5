import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { folderOfNotes, SERVER } from './notes.js';

/** Neovim from the distribution, headless, with its own language client and nothing else. */
const SESSION = fileURLToPath(new URL('neovim/session.lua', import.meta.url));

interface Seen {
  readonly problem?: string;
  readonly findings: readonly { line: number; code: string; text: string }[];
  readonly hover: { readonly value: string };
  readonly definition: unknown;
  readonly references: number;
  readonly completion: readonly string[];
  readonly actions?: readonly string[];
  readonly renamed: { readonly here: string; readonly there: string };
  readonly formatted: string;
  readonly mended: boolean;
  readonly stopped: boolean;
}

describe('Neovim', () => {
  const folder = folderOfNotes();
  let seen: Seen;

  beforeAll(() => {
    const result = join(folder.path, 'seen.json');
    const run = spawnSync('nvim', ['--headless', '--clean', '-n', '-c', `luafile ${SESSION}`], {
      cwd: folder.path,
      env: {
        ...process.env,
        TIPTOE_RESULT: result,
        TIPTOE_SERVER: SERVER,
        TIPTOE_NODE: process.execPath,
        XDG_STATE_HOME: folder.path,
        XDG_CACHE_HOME: folder.path,
      },
      encoding: 'utf8',
    });
    if (run.error) throw run.error;
    seen = JSON.parse(readFileSync(result, 'utf8')) as Seen;
    expect(seen.problem, run.stderr + JSON.stringify(seen)).toBeUndefined();
  }, 240_000);

  afterAll(() => {
    folder.remove();
  });

  test('shows findings where they are', () => {
    const wrong = seen.findings.find(({ code }) => code === 'unknown-name');
    expect(wrong?.line).toBe(15);
    expect(wrong?.text).toContain('claim_nobody_knows');
  });

  test('says on hover what an item is', () => {
    expect(seen.hover.value).toContain('1 frame');
    expect(seen.hover.value).toContain('@loft');
  });

  test('goes to the definition in another file, and finds every reference', () => {
    expect(JSON.stringify(seen.definition)).toContain('phrases.tiptoe');
    expect(seen.references).toBe(2);
  });

  test('completes names', () => {
    expect(seen.completion).toContain('climb');
  });

  test('offers the fix of a finding and applies it', () => {
    expect(seen.renamed.here).toMatch(/D$/m);
  });

  test('renames across files', () => {
    expect(seen.renamed.here).toContain('stairs*2');
    expect(seen.renamed.there).toContain('let stairs = U U J');
  });

  test('lays the note out', () => {
    expect(seen.formatted).toContain('  stairs*2 D\n');
  });

  test('drops findings with what they spoke of, and stops', () => {
    expect(seen.mended).toBe(true);
    expect(seen.stopped).toBe(true);
  });
});
