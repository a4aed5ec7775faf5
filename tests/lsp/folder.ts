import { mkdirSync, mkdtempSync, realpathSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach } from 'vitest';

const made: string[] = [];

afterEach(() => {
  for (const folder of made.splice(0)) rmSync(folder, { recursive: true, force: true });
});

export interface Folder {
  readonly path: string;
  readonly uri: string;
  uriOf(name: string): string;
  write(name: string, text: string): void;
  remove(name: string): void;
}

/** A folder with files, gone after the test. */
export function folderWith(files: Readonly<Record<string, string>>): Folder {
  const path = realpathSync(mkdtempSync(join(tmpdir(), 'tiptoe-lsp-')));
  made.push(path);
  const folder: Folder = {
    path,
    uri: pathToFileURL(path).href,
    uriOf: (name) => pathToFileURL(join(path, name)).href,
    write(name, text) {
      mkdirSync(dirname(join(path, name)), { recursive: true });
      writeFileSync(join(path, name), text);
    },
    remove: (name) => rmSync(join(path, name), { recursive: true }),
  };
  for (const [name, text] of Object.entries(files)) folder.write(name, text);
  return folder;
}

/** A game for notes that need one. */
export const GAME = `game "Lantern Cellar" {
  clock 50
  settle 7
  inputs {
    L = x -1
    R = x +1
    J = jump
  }
  pause P { open 4 dwell 10 resume 2 }
}
`;
