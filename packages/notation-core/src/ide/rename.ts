import type { SourceFile } from '../model/program.js';
import { DECLARATION_WORDS } from '../syntax/tokens.js';
import type { TextEdit } from '../text/edit.js';
import { nearest } from '../text/suggest.js';
import type { Analysis, FileSpan } from './analysis.js';
import { formOf } from './name-form.js';
import { isLocal, type Mention, mentionAt, mentionsOf, sights } from './names.js';
import { unitsNaming } from './name-index.js';
import { type NameKind, occurrencesOf } from './occurrences.js';
import { unread } from './unread.js';

/** What can be renamed at an offset: the stretch to type over, and what stands there. */
export interface RenamePlace extends FileSpan {
  readonly kind: NameKind;
  readonly name: string;
}

/** Edits of one file. */
export interface FileEdits {
  readonly path: string;
  readonly edits: readonly TextEdit[];
}

/**
 * Why a name should not be given, with the places that show it.
 * - `malformed`, `reserved`: it can be no such name. There are no edits.
 * - `taken`: it names something else already, and the two would become one.
 * - `given-twice`: what is renamed is declared more than once; all of it is renamed.
 * - `unread`: text that cannot be read has the old name in it, and is left as it is.
 */
export interface RenameConflict {
  readonly reason: 'malformed' | 'reserved' | 'taken' | 'given-twice' | 'unread';
  readonly kind: NameKind;
  /** The name that is in the way: the new one, or for the last two the old one. */
  readonly name: string;
  readonly places: readonly FileSpan[];
}

export interface Renamed {
  readonly edits: readonly FileEdits[];
  readonly conflicts: readonly RenameConflict[];
}

/** The name under the cursor, a spot without its `@`; nothing where there is none. */
export function prepareRename(
  analysis: Analysis,
  path: string,
  offset: number,
): RenamePlace | undefined {
  const mention = mentionAt(analysis, path, offset);
  if (mention === undefined) return undefined;
  const { kind, name, start, end } = mention;
  return { path, kind, name, start, end };
}

/**
 * Gives what the cursor is on another name, everywhere. With conflicts the edits are what would
 * be done all the same; whoever asked decides. `to` may be written with the `@` of a spot.
 */
export function rename(
  analysis: Analysis,
  path: string,
  offset: number,
  to: string,
): Renamed | undefined {
  const mention = mentionAt(analysis, path, offset);
  if (mention === undefined) return undefined;
  const { kind } = mention;
  const written = to.trim();
  const name = kind === 'spot' && written.startsWith('@') ? written.slice(1) : written;
  if (name === mention.name) return { edits: [], conflicts: [] };
  const form = formOf(kind, name);
  if (form !== 'fine') {
    const { start, end } = mention;
    return { edits: [], conflicts: [{ reason: form, kind, name, places: [{ path, start, end }] }] };
  }
  const mentions = mentionsOf(analysis, mention);
  const around = filesAround(analysis, mentions);
  const conflict = (
    reason: RenameConflict['reason'],
    of: string,
    places: readonly FileSpan[],
  ): RenameConflict[] =>
    places.length === 0
      ? []
      : [{ reason, kind, name: of, places: places.map((p) => ({ path: p.path, start: p.start, end: p.end })) }]; // prettier-ignore
  const declared = mentions.filter(({ declares }) => declares);
  return {
    edits: editsOf(mentions, name),
    conflicts: [
      ...conflict('taken', name, isLocal(kind) ? takenNear(mention, name) : takenIn(around, kind, name)),
      ...conflict('reserved', name, misread(mentions, name)),
      ...conflict('given-twice', mention.name, declared.length > 1 ? declared : []),
      ...conflict('unread', mention.name, unread(around, mention)),
    ],
  }; // prettier-ignore
}

function editsOf(mentions: readonly Mention[], text: string): FileEdits[] {
  const edits = new Map<string, TextEdit[]>();
  for (const { path, start, end } of mentions) {
    const list = edits.get(path) ?? [];
    edits.set(path, list);
    list.push({ span: { start, end }, text });
  }
  return [...edits].map(([path, list]) => ({ path, edits: list }));
}

/** The files that some file sees together with one of the mentions. */
function filesAround(analysis: Analysis, mentions: readonly Mention[]): SourceFile[] {
  const renamed = new Set(mentions.map(({ path }) => path));
  const around = new Set<SourceFile>();
  for (const seen of sights(analysis)) {
    if (seen.some(({ path }) => renamed.has(path))) for (const file of seen) around.add(file);
  }
  return [...analysis.program.files.values()].filter((file) => around.has(file));
}

/** Of each file where a name is given, or else the first place where it stands. */
function takenIn(files: Iterable<SourceFile>, kind: NameKind, name: string): FileSpan[] {
  const found: FileSpan[] = [];
  for (const { path, tree } of files) {
    let first: FileSpan | undefined;
    const given: FileSpan[] = [];
    for (const { placed, stands } of unitsNaming(tree, kind, name)) {
      const spanAt = (at: number) => {
        const start = placed.start + at;
        return { path, start, end: start + name.length };
      };
      first ??= spanAt(stands.starts[0] ?? 0);
      given.push(...stands.declared.map(spanAt));
    }
    if (given.length > 0) found.push(...given);
    else if (first !== undefined) found.push(first);
  }
  return found;
}

function takenNear({ kind, name, start, path, placed }: Mention, wanted: string): FileSpan[] {
  const names = occurrencesOf(placed.unit).filter((each) => each.kind === kind);
  const here = names.find((each) => each.name === name && placed.start + each.start === start);
  const other = names.find((each) => each.name === wanted && each.choose === here?.choose);
  if (other === undefined) return [];
  return [{ path, start: placed.start + other.start, end: placed.start + other.end }];
}

/** Where a line of a phrase would begin with what reads as a misspelled declaration. */
function misread(mentions: readonly Mention[], name: string): Mention[] {
  const alike = nearest(name, DECLARATION_WORDS.keys()) !== undefined;
  if (!alike) return [];
  return mentions.filter(({ start, placed }) =>
    /[\r\n]/.test(placed.unit.text.charAt(start - placed.start - 1)),
  );
}
