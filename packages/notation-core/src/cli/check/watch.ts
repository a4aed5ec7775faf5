import { type FSWatcher, readdirSync, statSync, watch as watchFolder } from 'node:fs';
import { dirname, join } from 'node:path';
import { EXIT, type ExitCode, Trouble } from '../exit.js';
import { kindOf } from '../files.js';
import { report } from '../report.js';
import { isTerminal } from '../screen.js';
import type { Outcome } from './outcome.js';

/** Changes that come together, as an editor makes them by writing and renaming, in milliseconds. */
const TOGETHER = 50;

/**
 * Checks, then sleeps until the system reports a change of a note, or of the settings, in a folder
 * that the check looked at; ends with Ctrl-C. Between two changes nothing runs.
 */
export async function watch(
  once: () => Promise<Outcome>,
  given: readonly string[],
): Promise<ExitCode> {
  const watchers = new Map<string, FSWatcher>();
  const news = new News();
  const stop = (): void => news.stop();
  const touch = (file: string | null): void => {
    if (file === null || /(\.tiptoe|tiptoe\.json)$/.test(file)) news.change();
  };
  process.on('SIGINT', stop);
  process.on('SIGTERM', stop);
  try {
    while (!news.stopped) {
      news.forget();
      const begun = Date.now();
      const read = await attempt(once);
      if (follow(watchers, foldersOf(given, read), touch) && changedSince(read, begun)) continue;
      if (isTerminal(2)) report('waiting for a change; Ctrl-C ends');
      await news.any();
      await new Promise((resolve) => setTimeout(resolve, TOGETHER));
    }
  } finally {
    process.off('SIGINT', stop);
    process.off('SIGTERM', stop);
    for (const watcher of watchers.values()) watcher.close();
  }
  return EXIT.interrupted;
}

/** What happened since the last look, and a way to sleep until something does. */
class News {
  stopped = false;
  #changed = false;
  #wake = (): void => undefined;

  change(): void {
    this.#changed = true;
    this.#wake();
  }

  stop(): void {
    this.stopped = true;
    this.#wake();
  }

  forget(): void {
    this.#changed = false;
  }

  async any(): Promise<void> {
    if (this.#changed || this.stopped) return;
    await new Promise<void>((resolve) => (this.#wake = resolve));
  }
}

let lastRead: readonly string[] = [];

/** A broken setting or a full disk is told, and the next change may mend it. */
async function attempt(once: () => Promise<Outcome>): Promise<readonly string[]> {
  try {
    lastRead = (await once()).read;
  } catch (error) {
    if (!(error instanceof Trouble)) throw error;
    report(error.message);
  }
  return lastRead;
}

/** Watches exactly these folders from now on; says whether there is a new one among them. */
function follow(
  watchers: Map<string, FSWatcher>,
  folders: ReadonlySet<string>,
  touch: (file: string | null) => void,
): boolean {
  for (const [folder, watcher] of watchers) {
    if (folders.has(folder)) continue;
    watcher.close();
    watchers.delete(folder);
  }
  let fresh = false;
  for (const folder of folders) {
    if (watchers.has(folder)) continue;
    try {
      const watcher = watchFolder(folder, (_, file) => touch(file));
      // Gone, or out of reach: the next check says so.
      watcher.on('error', () => {
        watcher.close();
        watchers.delete(folder);
        touch(null);
      });
      watchers.set(folder, watcher);
      fresh = true;
    } catch (error) {
      if (watchers.size === 0) throw new Trouble(folder, `it cannot be watched: ${String(error)}`);
    }
  }
  return fresh;
}

/** Whether a file changed after the check began, before its folder was watched. */
function changedSince(files: readonly string[], begun: number): boolean {
  return files.some((file) => {
    try {
      return statSync(file).mtimeMs >= begun;
    } catch {
      return true; // Gone in the meantime.
    }
  });
}

/** The folders of the files that were read, and every folder that was searched for them. */
function foldersOf(given: readonly string[], read: readonly string[]): Set<string> {
  const folders = new Set(read.map((file) => dirname(file)));
  for (const path of given.length === 0 ? ['.'] : given) {
    const kind = kindOf(path);
    if (kind === 'folder') addBelow(path, folders);
    else if (kind === 'nothing' && /[*?{[]/.test(path)) {
      addBelow(dirname(path.slice(0, path.search(/[*?{[]/)) + 'x'), folders);
    } else folders.add(dirname(path));
  }
  return folders;
}

function addBelow(root: string, folders: Set<string>): void {
  const open = [root];
  for (let folder = open.pop(); folder !== undefined; folder = open.pop()) {
    folders.add(folder);
    try {
      for (const entry of readdirSync(folder, { withFileTypes: true })) {
        const skipped = entry.name.startsWith('.') || entry.name === 'node_modules';
        if (entry.isDirectory() && !skipped) open.push(join(folder, entry.name));
      }
    } catch {
      folders.delete(folder); // The check names it.
    }
  }
}
