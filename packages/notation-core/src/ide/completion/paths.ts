import { normalPath, resolvePath } from '../../model/paths.js';
import type { Point } from '../items-at.js';
import type { Offer } from './types.js';

/** The path as far as it is written. */
export function pathWord({ unit, at }: Point): string {
  return /[^"\r\n]*$/.exec(unit.text.slice(Math.max(0, at - 1000), at))?.[0] ?? '';
}

/** Notes that `use` can name: those of the program and those that the caller knows. */
export function offerPaths(
  { analysis, file }: Point,
  paths: readonly string[],
  offer: Offer,
): void {
  const used = new Set(file.uses.map(({ path }) => path));
  const all = new Set([...analysis.program.files.keys(), ...paths.map(normalPath)]);
  for (const path of all) {
    if (path === file.path) continue;
    const label = relativePath(file.path, path);
    if (resolvePath(file.path, label) !== path) continue;
    const near = label.split('/').length / 100;
    offer({ label, kind: 'path', rank: (used.has(path) ? 1 : 0) + near });
  }
}

/** The path of a file as it is written in another. */
export function relativePath(from: string, to: string): string {
  const here = from.split('/').slice(0, -1);
  const there = to.split('/');
  let same = 0;
  while (same < here.length && same < there.length - 1 && here[same] === there[same]) same++;
  return [...here.slice(same).map(() => '..'), ...there.slice(same)].join('/');
}
