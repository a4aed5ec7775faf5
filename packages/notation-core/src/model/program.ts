import { parse } from '../syntax/parse.js';
import type { Placed, Tree, Unit, UseDeclaration } from '../syntax/tree.js';
import { normalPath, resolvePath } from './paths.js';
import { type ModelProblem, collector } from './problems.js';

/** Gives the text of a file, or says why there is none. */
export interface Reader {
  (path: string): { readonly text: string } | { readonly reason: string };
}

export interface SourceFile {
  readonly path: string;
  readonly tree: Tree;
  /** The `use` lines that led to a file, in order. */
  readonly uses: readonly UsedFile[];
  /** Problems of the `use` lines themselves. */
  readonly problems: readonly ModelProblem[];
}

export interface UsedFile {
  readonly path: string;
  readonly placed: Placed;
  readonly declaration: UseDeclaration;
}

/** Every file that a set of notes needs, each read once. */
export interface Program {
  readonly files: ReadonlyMap<string, SourceFile>;
  /** The files that were asked for, without repetition, as far as they could be read. */
  readonly entries: readonly string[];
  /** Files that were asked for and could not be read. */
  readonly unreadable: readonly { readonly path: string; readonly reason: string }[];
}

/** A `use` declaration and where it stands. */
export interface UseLink {
  readonly placed: Placed;
  readonly declaration: UseDeclaration;
}

/** What `linkFiles` made of the files: the paths that each leads to, by the file that uses. */
export interface Links {
  /** Every file that was read, used ones before those that use them. */
  readonly files: ReadonlyMap<string, Pick<SourceFile, 'uses' | 'problems'>>;
  readonly entries: readonly string[];
  readonly unreadable: readonly { readonly path: string; readonly reason: string }[];
}

/**
 * Reads the notes and everything they use. Circles of `use` are reported and otherwise
 * harmless: a file is read once however often it is named.
 */
export function loadProgram(
  paths: readonly string[],
  read: Reader,
  known?: (path: string, text: string) => Tree | undefined,
): Program {
  const trees = new Map<string, Tree>();
  const { files, entries, unreadable } = linkFiles(paths, (path) => {
    const answer = read(path);
    if ('reason' in answer) return answer.reason;
    const tree = known?.(path, answer.text) ?? parse(answer.text);
    trees.set(path, tree);
    return { links: linksOf(tree.units) };
  });
  const made = new Map<string, SourceFile>();
  for (const [path, file] of files) {
    const tree = trees.get(path);
    if (tree !== undefined) made.set(path, { path, tree, ...file });
  }
  return { files: made, entries, unreadable };
}

/** The `use` declarations among units. */
export function linksOf(units: readonly Placed[]): UseLink[] {
  const links: UseLink[] = [];
  for (const placed of units) {
    const { declaration } = placed.unit;
    if (declaration.kind === 'use') links.push({ placed, declaration });
  }
  return links;
}

/** The paths that the `use` declarations of a file lead to, as far as they can lead anywhere. */
export function pathsUsed(path: string, links: readonly UseLink[]): string[] {
  return links.flatMap(({ declaration: { path: written } }) =>
    written === undefined || unfitPath(written.value) !== ''
      ? []
      : [resolvePath(path, written.value)],
  );
}

/** Follows the `use` lines from the notes that are asked for. `open` gives a file, or why not. */
export function linkFiles(
  paths: readonly string[],
  open: (path: string) => { readonly links: readonly UseLink[] } | string,
): Links {
  const files = new Map<string, Pick<SourceFile, 'uses' | 'problems'>>();
  const failed = new Map<string, string>();
  const unreadable: { path: string; reason: string }[] = [];
  const entries = new Set<string>();

  // Depth first with a list of its own: a chain of files may be longer than the stack is deep.
  interface Visit {
    path: string;
    next: number;
    links: readonly UseLink[];
    uses: UsedFile[];
    problems: ModelProblem[];
  }
  const visitOf = (path: string): Visit | string => {
    const opened = open(path);
    if (typeof opened === 'string') return opened;
    return { path, next: 0, links: opened.links, uses: [], problems: [] };
  };

  for (const entry of paths) {
    const start = normalPath(entry);
    if (entries.has(start) || unreadable.some((file) => file.path === start)) continue;
    if (files.has(start)) {
      entries.add(start);
      continue;
    }
    const first = visitOf(start);
    if (typeof first === 'string') {
      unreadable.push({ path: start, reason: first });
      continue;
    }
    entries.add(start);
    const stack: Visit[] = [first];
    const onStack = new Set([start]);
    for (let top = stack[0]; top !== undefined; top = stack[stack.length - 1]) {
      const link = top.links[top.next++];
      if (link === undefined) {
        const { path, uses, problems } = top;
        files.set(path, { uses, problems });
        onStack.delete(path);
        stack.pop();
        continue;
      }
      const written = link.declaration.path;
      if (written === undefined) continue;
      const at = { unit: link.placed.unit, start: written.start, end: written.end };
      const report = collector(top.problems);
      const reason = unfitPath(written.value);
      if (reason !== '') {
        report('use-not-found', at, { path: written.value, reason });
        continue;
      }
      const path = resolvePath(top.path, written.value);
      if (onStack.has(path)) {
        const from = stack.findIndex((visit) => visit.path === path);
        const circle = [...stack.slice(from).map((visit) => visit.path), path].join(' -> ');
        report('use-cycle', at, { path: written.value, circle });
        top.uses.push({ path, ...link });
        continue;
      }
      const failure = failed.get(path);
      if (failure !== undefined) {
        report('use-not-found', at, { path: written.value, reason: failure });
        continue;
      }
      if (!files.has(path)) {
        const visit = visitOf(path);
        if (typeof visit === 'string') {
          failed.set(path, visit);
          report('use-not-found', at, { path: written.value, reason: visit });
          continue;
        }
        onStack.add(path);
        stack.push(visit);
      }
      top.uses.push({ path, ...link });
    }
  }
  return { files, entries: [...entries], unreadable };
}

function unfitPath(written: string): string {
  if (written.trim() === '') return 'the path is empty';
  if (/^(\/|[A-Za-z]:|[a-z]+:\/\/)/.test(written)) return 'the path must be relative to this file';
  if (written.includes('\\')) return 'parts of a path are parted by /';
  return '';
}

/** The program of one text by itself, for a note without files around it. */
export function programOf(text: string, path = 'note.tiptoe'): Program {
  return loadProgram([path], (asked) =>
    asked === path ? { text } : { reason: 'there are no other files here' },
  );
}

/** Where each unit stands. */
export function placesOf(program: Program): Map<Unit, { file: SourceFile; start: number }> {
  const places = new Map<Unit, { file: SourceFile; start: number }>();
  for (const file of program.files.values()) {
    for (const { unit, start } of file.tree.units) places.set(unit, { file, start });
  }
  return places;
}
