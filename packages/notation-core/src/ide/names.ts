import type { SourceFile } from '../model/program.js';
import { filesInScope } from '../model/scope.js';
import type { Placed } from '../syntax/tree.js';
import { type Analysis, type FileSpan, unitAt } from './analysis.js';
import { unitsNaming } from './name-index.js';
import { type NameKind, occurrencesOf } from './occurrences.js';

/**
 * What a name means across files.
 *
 * A file sees its own names and those of the files that it uses, and for it equal names are one.
 * So a name is one thing in all files that name it and that some file sees together: a log
 * without a declaration of its spots, say, and the route that uses it and declares them.
 */

/** A name where it stands: the name alone, a spot without its `@`, one letter of a press. */
export interface Mention extends FileSpan {
  readonly kind: NameKind;
  readonly name: string;
  readonly declares: boolean;
  /** The unit that it stands in. */
  readonly placed: Placed;
}

/** The name at an offset, or the one that ends there where none begins. A spot's `@` is part of it. */
export function mentionAt(analysis: Analysis, path: string, offset: number): Mention | undefined {
  const file = analysis.file(path);
  const placed = file === undefined ? undefined : unitAt(file, offset);
  if (placed === undefined) return undefined;
  const names = occurrencesOf(placed.unit);
  const at = offset - placed.start;
  let low = 0;
  let high = names.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const name = names[middle];
    if (name !== undefined && name.start - (name.kind === 'spot' ? 1 : 0) <= at) low = middle + 1;
    else high = middle;
  }
  const found = names[low - 1];
  if (found === undefined || found.end < at) return undefined;
  const { kind, name, declares } = found;
  const [start, end] = [placed.start + found.start, placed.start + found.end];
  return { path, start, end, kind, name, declares, placed };
}

/** Names that mean something in their own declaration only. */
const LOCAL: ReadonlySet<NameKind> = new Set(['choice', 'way', 'axis', 'button']);

export function isLocal(kind: NameKind): boolean {
  return LOCAL.has(kind);
}

/** Every place of what a name names, itself included: by file, then in the order of the text. */
export function mentionsOf(analysis: Analysis, of: Mention): Mention[] {
  if (isLocal(of.kind)) return localMentions(of);
  return realmOf(analysis, of).flatMap((file) => mentionsIn(file, of.kind, of.name));
}

/** The places in its own file of what a name names. */
export function mentionsNear(analysis: Analysis, of: Mention): Mention[] {
  if (isLocal(of.kind)) return localMentions(of);
  const file = analysis.file(of.path);
  return file === undefined ? [] : mentionsIn(file, of.kind, of.name);
}

/** Every place of a name in a file; with `declared` only those that give it. */
export function mentionsIn(
  file: SourceFile,
  kind: NameKind,
  name: string,
  declared = false,
): Mention[] {
  const { path } = file;
  const found: Mention[] = [];
  for (const { placed, stands } of unitsNaming(file.tree, kind, name)) {
    for (const at of declared ? stands.declared : stands.starts) {
      const start = placed.start + at;
      const declares = declared || (stands.declared.length > 0 && stands.declared.includes(at));
      found.push({ path, start, end: start + name.length, kind, name, declares, placed });
    }
  }
  return found;
}

/** Ways of one name belong together in one `choose`, the other local names in one declaration. */
function localMentions({ path, kind, name, start, placed }: Mention): Mention[] {
  const names = occurrencesOf(placed.unit).filter(
    (each) => each.kind === kind && each.name === name,
  );
  const choose = names.find((each) => each.start === start - placed.start)?.choose;
  return names
    .filter((each) => each.choose === choose)
    .map((each) => ({
      path, kind, name, placed, declares: each.declares,
      start: placed.start + each.start, end: placed.start + each.end,
    })); // prettier-ignore
}

/** The files in which a name is the same thing as where it is mentioned. */
export function realmOf(analysis: Analysis, { path, kind, name }: Mention): SourceFile[] {
  const { files } = analysis.program;
  const naming = new Set<SourceFile>();
  for (const file of files.values()) {
    if (unitsNaming(file.tree, kind, name).length > 0) naming.add(file);
  }
  const own = files.get(path);
  if (own === undefined) return [];
  const realm = new Set([own]);
  if (naming.size > 1) {
    let waiting = sights(analysis).map((seen) => seen.filter((file) => naming.has(file)));
    for (let size = 0; size < realm.size;) {
      size = realm.size;
      waiting = waiting.filter((seen) => {
        if (!seen.some((file) => realm.has(file))) return true;
        for (const file of seen) realm.add(file);
        return false;
      });
    }
  }
  return [...files.values()].filter((file) => realm.has(file));
}

/** What files see, each with those it uses, leaving out those whose sight another one holds. */
export function sights({ program }: Analysis): SourceFile[][] {
  const covered = new Set<SourceFile>();
  const found: SourceFile[][] = [];
  // Used files come first in a program, so that the last ones see the most.
  for (const file of [...program.files.values()].reverse()) {
    if (covered.has(file)) continue;
    const seen = filesInScope(program, file);
    for (const each of seen) covered.add(each);
    found.push(seen);
  }
  return found;
}
