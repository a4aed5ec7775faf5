import { normalPath, resolvePath } from '../model/paths.js';
import type { SourceFile } from '../model/program.js';
import type { TextEdit } from '../text/edit.js';
import type { Analysis } from './analysis.js';
import type { FileEdits } from './rename.js';

/** A file, or a folder with everything in it, that gets another path. */
export interface Move {
  readonly from: string;
  readonly to: string;
}

/**
 * What has to be written anew when files move, so that every `use` leads where it led: those that
 * point at them, and their own. The edits are of the files by their paths before the move.
 */
export function useEdits(analysis: Analysis, moves: readonly Move[]): FileEdits[] {
  const all = moves.map(({ from, to }) => ({ from: normalPath(from), to: normalPath(to) }));
  const after = (path: string): string => {
    for (const { from, to } of all) {
      if (path === from) return to;
      if (path.startsWith(`${from}/`)) return to + path.slice(from.length);
    }
    return path;
  };
  const found: FileEdits[] = [];
  for (const file of analysis.program.files.values()) {
    const edits = editsOf(file, after);
    if (edits.length > 0) found.push({ path: file.path, edits });
  }
  return found;
}

function editsOf(file: SourceFile, after: (path: string) => string): TextEdit[] {
  const here = after(file.path);
  const edits: TextEdit[] = [];
  for (const { start, unit } of file.tree.units) {
    const { declaration } = unit;
    if (declaration.kind !== 'use' || declaration.path === undefined) continue;
    const { value, start: from, end } = declaration.path;
    // A path that leads nowhere yet keeps its meaning too; one that is none is left alone.
    const used = file.uses.find((use) => use.declaration === declaration)?.path;
    if (used === undefined && !/^[^/\\:\s][^\\:]*$/.test(value)) continue;
    const target = after(used ?? resolvePath(file.path, value));
    if (resolvePath(here, value) === target) continue;
    const path = relativePath(here, target);
    if (path === undefined) continue;
    edits.push({ span: { start: start + from, end: start + end }, text: `"${escaped(path)}"` });
  }
  return edits;
}

/** The path from one file to another, as a `use` writes it; nothing where they share no root. */
export function relativePath(from: string, to: string): string | undefined {
  const [root, other] = [rootOf(from), rootOf(to)];
  if (root !== other) return undefined;
  const folders = from.slice(root.length).split('/').slice(0, -1);
  const parts = to.slice(root.length).split('/');
  let shared = 0;
  while (
    shared < folders.length &&
    shared < parts.length - 1 &&
    folders[shared] === parts[shared]
  ) {
    shared++;
  }
  const up = folders.slice(shared);
  // Nobody can tell the name of a folder above where paths begin.
  if (up.includes('..')) return undefined;
  return [...up.map(() => '..'), ...parts.slice(shared)].join('/');
}

function rootOf(path: string): string {
  return /^([a-z][a-z0-9+.-]+:\/\/[^/]*\/|\/|[A-Za-z]:\/)/.exec(path)?.[0] ?? '';
}

function escaped(path: string): string {
  return path.replace(/["\\]/g, '\\$&');
}
