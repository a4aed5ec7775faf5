import { normalPath } from '../model/paths.js';
import type { ModelProblem } from '../model/problems.js';
import { filesInScope } from '../model/scope.js';
import {
  linkFiles,
  pathsUsed,
  type Program,
  type Reader,
  type UsedFile,
} from '../model/program.js';
import { DEFAULT_SETTINGS, type Settings } from '../rules/settings.js';
import { applyEdits, type TextEdit } from '../text/edit.js';
import type { Finding } from '../text/finding.js';
import type { RawFinding } from '../rules/unit-check.js';
import type { Unit } from '../syntax/tree.js';
import type { Analysis } from './analysis.js';
import { mark } from './workspace-changes.js';
import { type Around, bring, findingsOf, scopeFor, type Steps } from './workspace-check.js';
import { count, Note } from './workspace-note.js';
import { difference, parsed } from './workspace-text.js';
import { equal } from './workspace-tree.js';

/** A view of a workspace as it is: good until the workspace's `version` is another one. */
export interface Snapshot extends Analysis {
  readonly version: number;
}

export interface WorkspaceOptions {
  /** Texts of files that are not open. Asked once a file, until `fileChanged`. */
  readonly read: Reader;
  readonly settings?: Settings;
  /** Milliseconds, for slices of work. */
  readonly now?: () => number;
}

/**
 * Notes that change, and what is known of them.
 *
 * The declaration is the unit of work. An edit parses the declarations that it touches and marks
 * those that depend on them, in all files; checking is done when findings are asked for, or in
 * slices by `work`, and everything that is not marked stays the same object. Nothing of it costs
 * more in a longer file or a larger workspace.
 *
 * A `SourceFile` stays the same object while its file is there, and a `Scope` while only bodies of
 * routes and rescues change: keep what is derived by unit or by tree, not by file.
 *
 * Paths are as `normalPath` has them. Notes that were added or are open are reported on; files that
 * they use are read, but have no findings of their own.
 */
export class Workspace {
  readonly #read: Reader;
  readonly #now: () => number;
  #settings: Settings;
  #version = 0;
  readonly #notes = new Map<string, Note>();
  /** Texts that were given and are not parsed yet. */
  readonly #texts = new Map<string, string>();
  readonly #open = new Set<string>();
  readonly #added = new Set<string>();
  readonly #failed = new Map<string, string>();
  /** How many files name each spot. */
  readonly #spots = new Map<string, number>();
  /** Whether files have to be read, or what they use has to be followed again. */
  #unlinked = true;
  #program: Program = { files: this.#notes, entries: [], unreadable: [] };
  readonly #dirty = new Set<string>();
  readonly #unfinished = new Set<Note>();
  #edited = '';
  #snapshot: Snapshot | undefined;

  constructor({ read, settings = DEFAULT_SETTINGS, now = Date.now }: WorkspaceOptions) {
    this.#read = read;
    this.#settings = settings;
    this.#now = now;
  }

  /** Grows with every change of a text, of the files or of the settings. */
  get version(): number {
    return this.#version;
  }

  get settings(): Settings {
    return this.#settings;
  }

  /** The text of a file as the workspace has it; undefined where it has none. */
  text(path: string): string | undefined {
    const known = normalPath(path);
    return this.#texts.get(known) ?? this.#notes.get(known)?.tree.text;
  }

  isOpen(path: string): boolean {
    return this.#open.has(normalPath(path));
  }

  // Changes.

  /** Adds notes that are reported on whether or not they are open: those of a folder. */
  add(paths: Iterable<string>): void {
    for (const path of paths) this.#added.add(normalPath(path));
    this.#relink();
  }

  /** Notes are reported on no more, unless they are open. */
  remove(paths: Iterable<string>): void {
    for (const path of paths) this.#added.delete(normalPath(path));
    this.#relink();
  }

  /** The text of an open file, from now on in the place of what the disk has. */
  setText(path: string, text: string): void {
    const known = normalPath(path);
    if (!this.#open.has(known)) {
      this.#open.add(known);
      this.#relink();
    }
    this.#edited = known;
    this.#put(known, text);
  }

  /** Edits of an open file, all of them to the text as it is. They must not overlap. */
  edit(path: string, edits: readonly TextEdit[]): void {
    const known = normalPath(path);
    this.#edited = known;
    const waiting = this.#texts.get(known);
    if (waiting !== undefined) {
      this.#version++;
      this.#texts.set(known, applyEdits(waiting, edits));
      return;
    }
    const note = this.#notes.get(known);
    if (note === undefined || !this.#open.has(known)) {
      throw new RangeError(`${path} is not open: there is no text to edit`);
    }
    // From the end, so that the places of the others stay.
    const sorted = [...edits].sort((a, b) => b.span.start - a.span.start || b.span.end - a.span.end); // prettier-ignore
    sorted.forEach((edit, k) => {
      const before = sorted[k - 1];
      if (before !== undefined && edit.span.end > before.span.start) {
        throw new RangeError(`edits overlap at offset ${before.span.start}`);
      }
    });
    for (const edit of sorted) this.#edit(note, edit);
  }

  /** A file is open no more: what the disk has counts again. */
  close(path: string): void {
    const known = normalPath(path);
    if (!this.#open.delete(known)) return;
    this.#texts.delete(known);
    this.fileChanged(known);
    this.#relink();
  }

  /** The disk has a new text of a file, or has it again. */
  fileChanged(path: string): void {
    const known = normalPath(path);
    const failed = this.#failed.delete(known);
    const note = this.#notes.get(known);
    if (this.#open.has(known) || (note === undefined && !failed && !this.#added.has(known))) return;
    if (note === undefined) {
      this.#relink();
      return;
    }
    const answer = this.#read(known);
    if ('text' in answer) this.#put(known, answer.text);
    else this.#gone(known);
  }

  /** The disk has a file no more. */
  fileDeleted(path: string): void {
    const known = normalPath(path);
    this.#added.delete(known);
    // Whoever still uses it is told by the reader why it cannot be read.
    if (!this.#open.has(known)) this.#gone(known);
    this.#relink();
  }

  setSettings(settings: Settings): void {
    const same = equal(this.#settings.limits, settings.limits);
    this.#settings = settings;
    this.#change();
    for (const note of this.#notes.values()) {
      if (!same) note.reset();
      note.ofFilePending = true;
      note.blockFindings = new WeakMap();
      note.findings = undefined;
      this.#touch(note);
    }
  }

  // Answers.

  /** Reads and parses what is still to be read, in steps; `analysis` has nothing to wait for then. */
  linked(): Steps {
    return this.#link();
  }

  /** The workspace as it is now; the same object until something changes. */
  analysis(): Snapshot {
    for (const _ of this.#link());
    if (this.#snapshot?.version === this.#version) return this.#snapshot;
    const { files, entries, unreadable } = this.#program;
    const around = this.#around();
    this.#snapshot = {
      version: this.#version,
      program: { files, entries, unreadable },
      settings: this.#settings,
      file: (path) => this.#notes.get(normalPath(path)),
      scope: (file) => scopeFor(this.#notes.get(file.path) ?? this.#alien(file.path), around),
      findings: (file) => this.findings(file.path),
      place: (unit) => {
        for (const note of this.#notes.values()) {
          const start = note.startOf(unit);
          if (start >= 0) return { file: note, start };
        }
        return undefined;
      },
    };
    return this.#snapshot;
  }

  /**
   * The findings of a note, sorted by place; none where it is not reported on. The same list as
   * long as none of them has changed.
   */
  findings(path: string): readonly Finding[] {
    for (const _ of this.findingSteps(path));
    const note = this.#notes.get(normalPath(path));
    return note?.entry === true ? findingsOf(note, this.#around()) : NONE;
  }

  /** The way to the findings of a note in steps; afterwards `findings` has them at hand. */
  *findingSteps(path: string): Steps {
    for (;;) {
      yield* this.#link();
      const note = this.#notes.get(normalPath(path));
      if (note?.entry !== true) return;
      if (note.checked) {
        this.#unfinished.delete(note);
        return;
      }
      const version = this.#version;
      for (const _ of bring(note, this.#around())) {
        yield;
        // The files or the settings may be others now.
        if (this.#version !== version) break;
      }
    }
  }

  /** What was found in a declaration, as it was found; the same list while nothing changes it. */
  found(path: string, unit: Unit): readonly RawFinding[] {
    return this.#notes.get(normalPath(path))?.found.get(unit) ?? NONE;
  }

  /**
   * Notes whose findings may have changed since this was last asked, those gone included: the one
   * that was edited first, then open ones, then the rest by path.
   */
  dirty(): string[] {
    const paths = [...this.#dirty].sort(
      (a, b) => this.#rank(a) - this.#rank(b) || (a < b ? -1 : 1),
    );
    this.#dirty.clear();
    return paths;
  }

  /**
   * Does what is left to do, most urgent first. Yields after every `slice` milliseconds, and the
   * path of each note as soon as its findings are at hand. To drop it loses nothing, and whatever
   * changes between two steps is taken along.
   */
  *work(slice = 5): Generator<string | undefined, void, void> {
    let began = this.#now();
    for (;;) {
      for (const _ of this.#link()) {
        if (this.#now() - began < slice) continue;
        yield undefined;
        began = this.#now();
      }
      const note = this.#mostUrgent();
      if (note === undefined) return;
      const { path } = note;
      let left = false;
      for (const _ of this.findingSteps(path)) {
        if (this.#now() - began < slice) continue;
        left = true;
        break;
      }
      if (!left) this.#unfinished.delete(note);
      yield left ? undefined : path;
      began = this.#now();
    }
  }

  // Insides.

  #alien(path: string): Note {
    throw new RangeError(`${path} is no file of this workspace`);
  }

  #around(): Around {
    const spots = this.#spots;
    return {
      program: this.#program,
      settings: this.#settings,
      version: this.#version,
      names: (spot) => spots.has(spot),
    };
  }

  #rank(path: string): number {
    return path === this.#edited ? 0 : this.#open.has(path) ? 1 : 2;
  }

  #mostUrgent(): Note | undefined {
    let best: Note | undefined;
    for (const note of this.#unfinished) {
      if (!note.entry || (note.checked && note.findings !== undefined)) {
        this.#unfinished.delete(note);
        continue;
      }
      if (best === undefined) {
        best = note;
        continue;
      }
      const by = this.#rank(note.path) - this.#rank(best.path);
      if (by < 0 || (by === 0 && note.path < best.path)) best = note;
    }
    return best;
  }

  #change(): void {
    this.#version++;
  }

  #touch(note: Note): void {
    if (!note.entry) return;
    this.#dirty.add(note.path);
    this.#unfinished.add(note);
  }

  #relink(): void {
    this.#unlinked = true;
    this.#change();
  }

  #put(path: string, text: string): void {
    const note = this.#notes.get(path);
    if (note !== undefined && !this.#texts.has(path)) {
      const edit = difference(note.tree.text, text);
      const { start, end } = edit.span;
      if (start !== end || edit.text !== '') this.#edit(note, edit);
      return;
    }
    this.#texts.set(path, text);
    this.#failed.delete(path);
    this.#relink();
  }

  #gone(path: string): void {
    const note = this.#notes.get(path);
    this.#texts.delete(path);
    this.#failed.delete(path);
    if (note !== undefined) this.#drop(note);
    this.#relink();
  }

  #drop(note: Note): void {
    this.#notes.delete(note.path);
    this.#unfinished.delete(note);
    if (note.entry) this.#dirty.add(note.path);
    for (const name of note.spotUsers.keys()) this.#countSpot(name, -1);
    for (const other of note.seenBy) {
      if (other === note) continue;
      other.reset();
      this.#touch(other);
    }
  }

  /** One file more or less names a spot. */
  #countSpot(name: string, by: number): void {
    const before = this.#spots.has(name);
    count(this.#spots, name, by);
    if (before === this.#spots.has(name)) return;
    for (const note of this.#notes.values()) {
      if (!note.spotsDeclared.has(name)) continue;
      note.ofFilePending = true;
      this.#touch(note);
    }
  }

  #edit(note: Note, edit: TextEdit): void {
    this.#change();
    const broken = note.brokenCount > 0;
    const routes = note.routeCount > 0;
    const done = note.edit(edit);
    if (done.removed.length === 0 && done.added.length === 0) return;
    const uses = [...done.removed, ...done.added].some((unit) => unit.declaration.kind === 'use');
    if (uses) this.#unlinked = true;
    const changedFacts =
      note.phraseChanges.size > 0 ||
      broken !== note.brokenCount > 0 ||
      routes !== note.routeCount > 0;
    if (changedFacts) note.ofFilePending = true;
    note.phraseChanges.clear();
    for (const [name, by] of note.spotChanges) this.#countSpot(name, by);
    note.spotChanges.clear();
    mark(note, done, (other) => {
      this.#touch(other);
    });
  }

  /** Reads and parses what is wanted, and follows what it uses. */
  *#link(): Steps {
    while (this.#unlinked) {
      yield* this.#load();
      this.#unlinked = false;
      this.#join();
    }
  }

  *#load(): Steps {
    const wanted = new Set([...this.#added, ...this.#open].sort());
    for (const path of wanted) {
      let note = this.#notes.get(path);
      if (note === undefined && !this.#failed.has(path)) note = yield* this.#loaded(path);
      for (const used of pathsUsed(path, note?.links ?? [])) wanted.add(used);
    }
  }

  *#loaded(path: string): Steps<Note | undefined> {
    for (;;) {
      const given = this.#texts.get(path);
      const answer = given === undefined ? this.#read(path) : { text: given };
      if ('reason' in answer) {
        this.#failed.set(path, answer.reason);
        return undefined;
      }
      const tree = yield* parsed(answer.text);
      const known = this.#notes.get(path);
      if (known !== undefined) return known;
      // It may have been edited, opened or closed while it was parsed.
      if (this.#texts.get(path) !== given) continue;
      const note = new Note(path, tree);
      this.#texts.delete(path);
      this.#notes.set(path, note);
      note.phraseChanges.clear();
      note.spotChanges.clear();
      for (const name of note.spotUsers.keys()) this.#countSpot(name, 1);
      return note;
    }
  }

  /** Ties the files together by what they use, and marks those for which that has changed. */
  #join(): void {
    const wanted = [...new Set([...this.#added, ...this.#open])].sort();
    const { files, entries, unreadable } = linkFiles(
      wanted,
      (path) => this.#notes.get(path) ?? this.#failed.get(path) ?? 'it is not read yet',
    );
    this.#program = { files: this.#notes, entries, unreadable };
    for (const note of [...this.#notes.values()]) if (!files.has(note.path)) this.#drop(note);
    const asked = new Set(entries);
    let others = false;
    const rerouted = new Set<Note>();
    for (const note of this.#notes.values()) {
      const file = files.get(note.path);
      if (file === undefined) continue;
      const entry = asked.has(note.path);
      if (note.entry !== entry) {
        others = true;
        if (note.entry) this.#dirty.add(note.path);
        note.entry = entry;
        note.ofFilePending = true;
        this.#touch(note);
      }
      if (!sameProblems(note.problems, file.problems)) {
        others = true;
        note.problems = file.problems;
        note.ofFilePending = true;
        this.#touch(note);
      }
      if (!sameUses(note.uses, file.uses)) {
        others = true;
        if (note.uses.map(pathOf).join('\n') !== file.uses.map(pathOf).join('\n')) {
          rerouted.add(note);
        }
      }
      note.uses = file.uses;
    }
    const seenBy = new Map<Note, Note[]>();
    for (const note of this.#notes.values()) {
      const sees = filesInScope(this.#program, note).flatMap(
        ({ path }) => this.#notes.get(path) ?? [],
      );
      const same =
        sees.length === note.sees.length && sees.every((each, k) => each === note.sees[k]);
      if (!same || sees.some((each) => rerouted.has(each))) {
        note.reset();
        this.#touch(note);
      }
      note.sees = sees;
      for (const each of sees) {
        const list = seenBy.get(each);
        if (list === undefined) seenBy.set(each, [note]);
        else list.push(note);
      }
    }
    for (const note of this.#notes.values()) {
      note.seenBy = seenBy.get(note) ?? [];
      // Who uses a file, and which are asked for, decides on what is said of whole files.
      if (others || rerouted.size > 0) {
        note.ofFilePending = true;
        this.#touch(note);
      }
    }
  }
}

const NONE: readonly never[] = [];

function pathOf({ path }: UsedFile): string {
  return path;
}

function sameUses(a: readonly UsedFile[], b: readonly UsedFile[]): boolean {
  if (a.length !== b.length) return false;
  return a.every((use, k) => {
    const other = b[k];
    return use.path === other?.path && use.placed.unit === other.placed.unit;
  });
}

/** Alike is not enough: a declaration that was read again is another one to say it of. */
function sameProblems(a: readonly ModelProblem[], b: readonly ModelProblem[]): boolean {
  return equal(a, b) && a.every(({ unit }, k) => unit === b[k]?.unit);
}
