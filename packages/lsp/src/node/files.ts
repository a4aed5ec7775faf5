import { type Dirent } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { readText } from '@tiptoe/notation-core/files';
import type { Files } from '../host.js';
import { isNote } from '../notes.js';

/** The files of the machine. Paths of other schemes are none of its files. */
export const diskFiles: Files = {
  read(path) {
    return isOnDisk(path) ? readText(path) : { reason: 'there is no such file' };
  },

  /** As `tiptoe check` searches a folder: links to folders are not followed. */
  async *list(root) {
    const open = isOnDisk(root) ? [root] : [];
    for (let folder = open.pop(); folder !== undefined; folder = open.pop()) {
      const notes: string[] = [];
      const inside: string[] = [];
      for (const entry of await entriesOf(folder)) {
        const path = `${folder === '/' ? '' : folder}/${entry.name}`;
        if (entry.isDirectory()) {
          if (!entry.name.startsWith('.') && entry.name !== 'node_modules') inside.push(path);
        } else if (isNote(path) && (entry.isFile() || (await isFile(path)))) notes.push(path);
      }
      open.push(...inside.reverse());
      if (notes.length > 0) yield notes;
    }
  },
};

function isOnDisk(path: string): boolean {
  return path.startsWith('/') || /^[A-Za-z]:\//.test(path);
}

async function entriesOf(folder: string): Promise<Dirent[]> {
  try {
    const entries = await readdir(folder, { withFileTypes: true });
    return entries.sort((a, b) => (a.name < b.name ? -1 : 1));
  } catch {
    return []; // Gone, or closed to us: it has no notes that we could read.
  }
}

async function isFile(path: string): Promise<boolean> {
  try {
    return (await stat(path)).isFile();
  } catch {
    return false;
  }
}
