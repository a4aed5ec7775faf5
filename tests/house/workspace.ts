import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** The workspace's root folder, with `/` at its end. */
export const root = fileURLToPath(new URL('../..', import.meta.url));

/** Paths, from the root, of the files that are kept; without git, of all that no build made. */
export function trackedFiles(): string[] {
  if (!existsSync(root + '.git')) return walk('');
  const list = (...args: string[]): string[] =>
    execFileSync('git', ['ls-files', '-z', ...args], { cwd: root, encoding: 'utf8' })
      .split('\0')
      .filter((path) => path !== '');
  const gone = new Set(list('--deleted'));
  return list().filter((path) => !gone.has(path));
}

const MADE = new Set(['node_modules', 'dist', '.build', '.cache', 'coverage']);

function walk(folder: string): string[] {
  return readdirSync(root + folder, { withFileTypes: true }).flatMap((entry) => {
    if (MADE.has(entry.name)) return [];
    const path = folder + entry.name;
    return entry.isDirectory() ? walk(path + '/') : [path];
  });
}

/** The text of a file, by its path from the root. */
export function read(path: string): string {
  return readFileSync(root + path, 'utf8');
}

/** The TypeScript sources of all packages (not their tests or builds), by path from the root. */
export function packageSources(): Map<string, string> {
  const sources = new Map<string, string>();
  for (const name of readdirSync(root + 'packages')) {
    const folder = `packages/${name}/src`;
    for (const entry of readdirSync(root + folder, { recursive: true, encoding: 'utf8' })) {
      const path = `${folder}/${entry.replaceAll('\\', '/')}`;
      if (path.endsWith('.ts')) sources.set(path, read(path));
    }
  }
  return sources;
}
