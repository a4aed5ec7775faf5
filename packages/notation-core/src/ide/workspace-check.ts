import type { Program } from '../model/program.js';
import { type Scope, scopeOf } from '../model/scope.js';
import { adoptKnown, sizeOfKnown } from '../positions/context.js';
import { fileFindings, foundBy, relatedAt } from '../rules/check.js';
import { inOrder, NO_PIECE, pieceOf, placedAt, runsOf } from '../rules/pieces.js';
import type { Place } from '../rules/rule.js';
import type { Settings } from '../rules/settings.js';
import { type RawFinding, UnitChecker } from '../rules/unit-check.js';
import type { Unit } from '../syntax/tree.js';
import type { Finding, Related } from '../text/finding.js';
import type { BlockFindings, Note } from './workspace-note.js';
import { type Block, equal } from './workspace-tree.js';

/** Work that can be left after every step and taken up again, or dropped. */
export type Steps<T = void> = Generator<undefined, T, void>;

/** What checking a note needs from its workspace. */
export interface Around {
  readonly program: Program;
  readonly settings: Settings;
  readonly version: number;
  /** Whether any file names a spot. */
  names(spot: string): boolean;
}

const NOTHING: readonly RawFinding[] = [];
/** A log that has met this many items and places more than it was made of is made anew. */
const WORN = 20_000;
/** A checker that has looked at this many declarations since it was made. */
const TIRED = 20_000;

interface Wear {
  checks: number;
  /** The version of the workspace that near names were last looked for in. */
  version: number;
}
const wear = new WeakMap<UnitChecker, Wear>();
const sizes = new WeakMap<Scope, number>();

export function scopeFor(note: Note, { program }: Around): Scope {
  if (note.scope === undefined) {
    note.scope = scopeOf(program, note);
    if (note.lastScope !== undefined) {
      adoptKnown(note.scope, note.lastScope);
      sizes.set(note.scope, sizes.get(note.lastScope) ?? 0);
      note.lastScope = undefined;
    }
  }
  return note.scope;
}

function checkerFor(note: Note, around: Around): UnitChecker {
  const scope = scopeFor(note, around);
  const size = sizeOfKnown(scope);
  const first = sizes.get(scope) ?? 0;
  if (first === 0) sizes.set(scope, size);
  const worn = first > 0 && size > 2 * first + WORN;
  const used = note.checker === undefined ? undefined : wear.get(note.checker);
  if (worn || (used !== undefined && used.checks > TIRED)) {
    note.scope = undefined;
    note.checker = undefined;
    return checkerFor(note, around);
  }
  note.checker ??= new UnitChecker(scope, around.settings.limits);
  const { version } = around;
  if (used === undefined) wear.set(note.checker, { checks: 1, version });
  else {
    used.checks++;
    if (used.version !== version) note.checker.renewGuesses();
    used.version = version;
  }
  return note.checker;
}

/** Checks what is pending of a note. What changes meanwhile is taken along. */
export function* bring(note: Note, around: Around): Steps {
  while (!note.checked) {
    const checker = checkerFor(note, around);
    for (const _ of checker.preparing()) {
      yield;
      if (!isOf(note, checker)) break;
    }
    if (!isOf(note, checker)) continue;
    if (note.allPending) {
      note.allPending = false;
      for (const { units } of note.tree.blocks) for (const unit of units) note.pending.add(unit);
    }
    yield* units(note, checker, around);
    if (!isOf(note, checker) || isPending(note)) continue;
    // Errors of files that are only used are counted where they are used.
    if (note.entry) {
      for (const used of note.sees) if (!used.entry) yield* bring(used, around);
    }
    if (!isOf(note, checker) || isPending(note)) continue;
    if (note.ofFilePending) {
      note.ofFilePending = false;
      checkFileOf(note, checker, around);
      yield;
    }
  }
}

/** Whether a note is still checked by it: an edit between two steps may have put an end to that. */
function isOf(note: Note, checker: UnitChecker): boolean {
  return note.checker === checker;
}

function isPending(note: Note): boolean {
  return note.allPending || note.pending.size > 0;
}

function* units(note: Note, first: UnitChecker, around: Around): Steps {
  let checker = first;
  for (const unit of note.pending) {
    note.pending.delete(unit);
    keep(note, unit, foundBy(checker, unit));
    yield;
    if (!isOf(note, first) || note.allPending) return;
    checker = checkerFor(note, around);
    if (checker !== first) return;
  }
}

function keep(note: Note, unit: Unit, raws: readonly RawFinding[]): void {
  const old = note.found.get(unit) ?? NOTHING;
  const found = raws.length === 0 ? NOTHING : raws.map(settled);
  if (found.some(({ rule }) => rule === 'unknown-name' || rule === 'undeclared-spot')) {
    note.guessing.add(unit);
  } else note.guessing.delete(unit);
  if (alike(old, found)) return;
  if (found.length === 0) note.found.delete(unit);
  else note.found.set(unit, found);
  note.moved(unit);
}

/** Fixes are made at once: what they are made from would otherwise be kept alive by them. */
function settled(raw: RawFinding): RawFinding {
  if (raw.fixes === undefined) return raw;
  const fixes = raw.fixes();
  return { ...raw, fixes: () => fixes };
}

function alike(a: readonly RawFinding[], b: readonly RawFinding[]): boolean {
  if (a === b) return true;
  if (a.length !== b.length) return false;
  return a.every((one, k) => {
    const other = b[k];
    if (other === undefined || one.rule !== other.rule) return false;
    if (one.start !== other.start || one.end !== other.end) return false;
    if (one.inside?.unit !== other.inside?.unit) return false;
    if (one.inside?.start !== other.inside?.start || one.inside?.end !== other.inside?.end) {
      return false;
    }
    return equal(one.params, other.params) && equal(one.fixes?.(), other.fixes?.());
  });
}

function checkFileOf(note: Note, checker: UnitChecker, around: Around): void {
  const { program } = around;
  const found = fileFindings({
    program,
    file: note,
    scope: checker.scope,
    errorsIn: (file) => (note.entry ? errorsOf(program.files.get(file.path), around) : 0),
    facts: note.facts((spot) => around.names(spot)),
  });
  const kept = new Map<Unit, readonly RawFinding[]>();
  for (const [unit, raws] of found) {
    const fresh = raws.map(settled);
    const old = note.ofFile.get(unit);
    if (old !== undefined && alike(old, fresh)) kept.set(unit, old);
    else {
      kept.set(unit, fresh);
      note.moved(unit);
    }
  }
  for (const unit of note.ofFile.keys()) if (!kept.has(unit)) note.moved(unit);
  note.ofFile = kept;
}

function errorsOf(file: unknown, around: Around): number {
  // Every file of the program of a workspace is one of its notes.
  const note = file as Note | undefined;
  if (note === undefined) return 0;
  for (const _ of bring(note, around));
  return findingsOf(note, around).filter(({ severity }) => severity === 'error').length;
}

/** The findings of a checked note. As long as none has changed it is the same list. */
export function findingsOf(note: Note, { settings }: Around): readonly Finding[] {
  if (note.findings !== undefined) return note.findings;
  const { blocks, starts } = note.tree;
  const findings: Finding[] = [];
  const pointsInto = new Set<Note>();
  const relatedTo = ({ unit, start, end }: Place): readonly Related[] => {
    for (const other of note.sees) {
      const at = other.startOf(unit);
      if (at < 0) continue;
      pointsInto.add(other);
      return [relatedAt(other.path, at + start, at + end)];
    }
    return [];
  };
  blocks.forEach((block, k) => {
    const of = ofBlock(note, block, settings);
    if (of.pieces.length === 0) return;
    const start = starts[k] ?? 0;
    let made = of.placed?.start === start ? of.placed.findings : undefined;
    if (made === undefined) {
      made = of.pieces.flatMap(({ piece, offset }) => placedAt(piece, start + offset, relatedTo));
      // What points elsewhere is placed every time: the other place may have moved.
      if (!of.pieces.some(({ piece }) => piece.inside !== undefined)) {
        of.placed = { start, findings: made };
      }
    }
    for (const finding of made) findings.push(finding);
  });
  note.pointsInto = pointsInto;
  return (note.findings = inOrder(findings));
}

function ofBlock(note: Note, block: Block, settings: Settings): BlockFindings {
  const known = note.blockFindings.get(block);
  if (known !== undefined) return known;
  const pieces: { piece: ReturnType<typeof pieceOf>; offset: number }[] = [];
  let offset = 0;
  for (const run of runsOf(block.units)) {
    const piece = pieceOf(run, note.path, (unit) => foundIn(note, unit), settings);
    if (piece !== NO_PIECE && piece.findings.length > 0) pieces.push({ piece, offset });
    for (const { text } of run) offset += text.length;
  }
  const made: BlockFindings = { pieces, placed: undefined };
  note.blockFindings.set(block, made);
  return made;
}

function foundIn(note: Note, unit: Unit): readonly RawFinding[] {
  const own = note.found.get(unit) ?? NOTHING;
  const more = note.ofFile.get(unit);
  return more === undefined ? own : [...own, ...more];
}
