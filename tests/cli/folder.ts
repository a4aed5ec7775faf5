import { type SpawnSyncReturns, spawn, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach } from 'vitest';
import { root } from '../house/workspace.js';

/** The command as a user starts it: the built bundle in a process of its own. */
export const bin = join(root, 'packages/notation-core/bin/tiptoe.cjs');

const made: string[] = [];
afterEach(() => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
});

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** A temporary folder with files in it, removed after the test. */
export class Folder {
  readonly path = mkdtempSync(join(tmpdir(), 'tiptoe-cli-'));

  constructor(files: Readonly<Record<string, string | Uint8Array>> = {}) {
    made.push(this.path);
    for (const [name, content] of Object.entries(files)) this.write(name, content);
  }

  at(name: string): string {
    return join(this.path, name);
  }

  write(name: string, content: string | Uint8Array): void {
    mkdirSync(dirname(this.at(name)), { recursive: true });
    writeFileSync(this.at(name), content);
  }

  read(name: string): string {
    return readFileSync(this.at(name), 'utf8');
  }

  list(): string[] {
    return readdirSync(this.path, { recursive: true, encoding: 'utf8' }).sort();
  }

  /** Runs the command here, colours off unless the environment asks. */
  run(
    args: readonly string[],
    more: { input?: string | Uint8Array; env?: NodeJS.ProcessEnv } = {},
  ): Ran {
    const { status, stdout, stderr } = spawnSync(process.execPath, [bin, ...args], {
      cwd: this.path,
      input: more.input ?? '',
      env: environment(more.env),
      encoding: 'utf8',
      maxBuffer: 2 ** 28,
    });
    return { code: status, out: stdout, err: stderr };
  }

  /** Runs a line of the shell here, in which `tiptoe` is the command. */
  shell(line: string): SpawnSyncReturns<string> {
    const script = `tiptoe() { "${process.execPath}" "${bin}" "$@"; }\n${line}`;
    return spawnSync('bash', ['-c', script], {
      cwd: this.path,
      env: environment(),
      encoding: 'utf8',
    });
  }

  /** Starts the command here and leaves it running. */
  start(args: readonly string[]) {
    return spawn(process.execPath, [bin, ...args], { cwd: this.path, env: environment() });
  }
}

function environment(more: NodeJS.ProcessEnv = {}): NodeJS.ProcessEnv {
  const { FORCE_COLOR: _, NO_COLOR: _no, ...rest } = process.env;
  return { ...rest, ...more };
}

/** Whatever an error message must never be. */
export function expectNoTrace(text: string): void {
  if (/\n\s+at |node:internal|Error:|\[object|undefined/.test(text)) {
    throw new Error(`a stack trace or a raw value got out:\n${text}`);
  }
}
