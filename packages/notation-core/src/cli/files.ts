import { type Dirent, readdirSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { nearest } from '../text/suggest.js';
import { systemReason } from './exit.js';

/** What the arguments of a command come to. */
export interface Found {
  /** Files to read, as given or found, in order; one that was named need not exist. */
  readonly files: readonly string[];
  /** Arguments that come to nothing, with the reason. */
  readonly problems: readonly { readonly path: string; readonly reason: string }[];
}

const ENDING = '.tiptoe';

/**
 * Files, folders and patterns as notes. A folder is searched for `*.tiptoe` down to its last
 * subfolder, but for `node_modules` and folders that begin with a dot; links to folders are not
 * followed. A pattern is one only where no file has its name.
 */
export async function findNotes(given: readonly string[]): Promise<Found> {
  const files: string[] = [];
  const problems: { path: string; reason: string }[] = [];
  for (const path of given.length === 0 ? ['.'] : given) {
    const kind = kindOf(path);
    if (kind === 'folder') {
      const before = files.length + problems.length;
      searchFolder(path, files, problems);
      if (files.length + problems.length === before) {
        problems.push({ path, reason: `there are no notes (*${ENDING}) in this folder` });
      }
    } else if (kind === 'nothing' && /[*?{[]/.test(path)) {
      const matches = await matching(path);
      files.push(...matches);
      if (matches.length === 0) problems.push({ path, reason: 'no note matches this pattern' });
    } else files.push(path);
  }
  return { files, problems };
}

/** What stands at a path; `nothing` also where the system does not say. */
export function kindOf(path: string): 'folder' | 'file' | 'nothing' {
  try {
    return statSync(path).isDirectory() ? 'folder' : 'file';
  } catch {
    return 'nothing';
  }
}

function searchFolder(root: string, files: string[], problems: { path: string; reason: string }[]) {
  const open = [root];
  for (let folder = open.pop(); folder !== undefined; folder = open.pop()) {
    let entries: Dirent[];
    try {
      entries = readdirSync(folder, { withFileTypes: true });
    } catch (error) {
      problems.push({ path: folder, reason: systemReason(error) });
      continue;
    }
    // Folders after the files beside them, both by name, whatever order the disk keeps.
    const inside: string[] = [];
    for (const entry of entries.sort((a, b) => (a.name < b.name ? -1 : 1))) {
      const path = join(folder, entry.name);
      if (entry.isDirectory()) {
        if (!entry.name.startsWith('.') && entry.name !== 'node_modules') inside.push(path);
      } else if (entry.name.endsWith(ENDING) && kindOf(path) !== 'folder') files.push(path);
    }
    open.push(...inside.reverse());
  }
}

async function matching(pattern: string): Promise<string[]> {
  const { glob } = await import('tinyglobby');
  const found = await glob([pattern.replaceAll('\\', '/')], {
    ignore: ['**/node_modules/**'],
    expandDirectories: false,
    followSymbolicLinks: false,
    absolute: pattern.startsWith('/'),
  });
  return found.filter((path) => path.endsWith(ENDING)).sort();
}

/** A note beside a missing file with nearly its name, for a did-you-mean. */
export function similarFile(path: string): string | undefined {
  try {
    const stem = (name: string) => name.replace(/\.[^.]*$/, '');
    // Without their endings: those are alike, whatever the names.
    const notes = readdirSync(dirname(path)).filter((name) => name.endsWith(ENDING));
    const written = stem(basename(path));
    const stems = notes.map(stem);
    const near = stems.includes(written) ? written : nearest(written, stems);
    return near === undefined ? undefined : join(dirname(path), near + ENDING);
  } catch {
    return undefined;
  }
}
