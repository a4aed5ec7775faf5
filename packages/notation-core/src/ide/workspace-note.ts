import type { SourceFile, UsedFile, UseLink } from '../model/program.js';
import type { ModelProblem } from '../model/problems.js';
import type { Scope } from '../model/scope.js';
import { namedIn } from '../rules/checks/spots.js';
import { phrasesIn } from '../rules/facts.js';
import type { FileFacts } from '../rules/rule.js';
import type { RawFinding, UnitChecker } from '../rules/unit-check.js';
import type { Unit } from '../syntax/tree.js';
import type { Finding } from '../text/finding.js';
import { type Block, edited, type Edited, type UnitTree } from './workspace-tree.js';
import type { Piece } from '../rules/pieces.js';
import type { TextEdit } from '../text/edit.js';

/** Findings of one block: counted from its start, and as last placed. */
export interface BlockFindings {
  readonly pieces: readonly { readonly piece: Piece; readonly offset: number }[];
  placed: { readonly start: number; readonly findings: readonly Finding[] } | undefined;
}

/**
 * A file of a workspace. It stays the same object for as long as the file is there; `tree` is
 * another object after every edit. Beside the text it keeps what is known of each declaration
 * and who names what, so that a change finds what depends on it without looking at the rest.
 */
export class Note implements SourceFile {
  tree: UnitTree;
  uses: readonly UsedFile[] = [];
  problems: readonly ModelProblem[] = [];
  /** Whether findings are wanted, rather than only its names. */
  entry = false;

  scope: Scope | undefined;
  /** The scope that a dropped one was; its log is taken over where nothing in it has changed. */
  lastScope: Scope | undefined;
  checker: UnitChecker | undefined;
  /** The files whose names it sees, itself first; the files that see its names, itself among them. */
  sees: readonly Note[] = [];
  seenBy: readonly Note[] = [];

  /** What was found in each declaration so far. */
  readonly found = new Map<Unit, readonly RawFinding[]>();
  /** Declarations still to be checked; all of them where `allPending`. */
  readonly pending = new Set<Unit>();
  allPending = true;
  /** What the file as a whole shows, by the declaration that it is said of. */
  ofFile: ReadonlyMap<Unit, readonly RawFinding[]> = new Map();
  ofFilePending = true;
  /** Declarations that name something unknown: another name may come near it. */
  readonly guessing = new Set<Unit>();

  readonly home = new Map<Unit, Block>();
  blockFindings = new WeakMap<Block, BlockFindings>();
  /** Undefined where something has changed since they were put together. */
  findings: readonly Finding[] | undefined;
  /** Files that a finding points into. */
  pointsInto: ReadonlySet<Note> = new Set();

  /** The declarations that name a phrase (itself left out), a spot. */
  readonly phraseUsers = new Map<string, Set<Unit>>();
  readonly spotUsers = new Map<string, Set<Unit>>();
  readonly rescues = new Set<Unit>();
  brokenCount = 0;
  routeCount = 0;
  /** How many declarations give each spot a cue or a place. */
  readonly spotsDeclared = new Map<string, number>();
  /** Names that an edit has brought in or taken out, by how often; cleared by whoever looks. */
  readonly spotChanges = new Map<string, number>();
  readonly phraseChanges = new Map<string, number>();
  #links: UseLink[] | undefined;
  readonly #names = new WeakMap<Block, { phrases: readonly Unit[]; spots: readonly Unit[] }>();

  constructor(
    readonly path: string,
    tree: UnitTree,
  ) {
    this.tree = tree;
    for (const block of tree.blocks) this.settle(block);
    for (const block of tree.blocks) for (const unit of block.units) this.index(unit, true);
  }

  /** Whether nothing is left to be checked. */
  get checked(): boolean {
    return !this.allPending && this.pending.size === 0 && !this.ofFilePending;
  }

  edit(edit: TextEdit): Edited {
    const done = edited(this.tree, edit);
    this.tree = done.tree;
    for (const unit of done.removed) this.drop(unit);
    for (const unit of done.added) this.index(unit, true);
    for (const block of done.made) this.settle(block);
    return done;
  }

  private settle(block: Block): void {
    for (const unit of block.units) this.home.set(unit, block);
  }

  private drop(unit: Unit): void {
    this.index(unit, false);
    this.home.delete(unit);
    this.found.delete(unit);
    this.pending.delete(unit);
    this.guessing.delete(unit);
    this.checker?.forget(unit);
  }

  private index(unit: Unit, isThere: boolean): void {
    const { kind } = unit.declaration;
    const by = isThere ? 1 : -1;
    if (unit.problems.length > 0) this.brokenCount += by;
    if (kind === 'route') this.routeCount += by;
    if (kind === 'rescue') {
      if (isThere) this.rescues.add(unit);
      else this.rescues.delete(unit);
    }
    if (kind === 'use') this.#links = undefined;
    if (unit.declaration.kind === 'spot' && unit.declaration.spot !== undefined) {
      count(this.spotsDeclared, unit.declaration.spot.name, by);
    }
    for (const name of phrasesIn(unit)) {
      if (put(this.phraseUsers, name, unit, isThere)) count(this.phraseChanges, name, by);
    }
    for (const name of namedIn(unit)) {
      if (put(this.spotUsers, name, unit, isThere)) count(this.spotChanges, name, by);
    }
  }

  /** The `use` declarations; each knows where it stands now. */
  get links(): readonly UseLink[] {
    return (this.#links ??= this.findLinks());
  }

  private findLinks(): UseLink[] {
    const links: UseLink[] = [];
    for (const { units } of this.tree.blocks) {
      for (const unit of units) {
        const { declaration } = unit;
        if (declaration.kind !== 'use') continue;
        const startOf = (): number => this.startOf(unit);
        const placed = {
          unit,
          get start() {
            return startOf();
          },
        };
        links.push({ placed, declaration });
      }
    }
    return links;
  }

  /** Where a unit stands; -1 where it is not in the file. */
  startOf(unit: Unit): number {
    const block = this.home.get(unit);
    return block === undefined ? -1 : this.tree.startIn(block, unit);
  }

  /** Everything has to be checked again; the log has to be compiled again as well. */
  reset(): void {
    this.scope = undefined;
    this.lastScope = undefined;
    this.checker = undefined;
    this.allPending = true;
    this.ofFilePending = true;
  }

  /** Names have changed, but neither the game nor the log. */
  dropScope(): void {
    this.lastScope = this.scope ?? this.lastScope;
    this.scope = undefined;
    this.checker = undefined;
    this.ofFilePending = true;
  }

  /** A declaration depends on something that has changed. */
  recheck(unit: Unit): void {
    this.pending.add(unit);
    this.checker?.forget(unit);
  }

  /** The findings of a declaration are others: what was put together with them is void. */
  moved(unit: Unit): void {
    const block = this.home.get(unit);
    if (block !== undefined) this.blockFindings.delete(block);
    this.findings = undefined;
  }

  facts(names: (spot: string) => boolean): FileFacts {
    return {
      broken: this.brokenCount > 0,
      routes: this.routeCount > 0,
      phrases: () => this.declared('phrases'),
      spots: () => this.declared('spots'),
      uses: (phrase) => this.phraseUsers.has(phrase),
      used: () => this.phraseUsers.keys(),
      names,
    };
  }

  private *declared(which: 'phrases' | 'spots'): Generator<Unit> {
    for (const block of this.tree.blocks) {
      let names = this.#names.get(block);
      if (names === undefined) {
        const of = (kind: string) => block.units.filter((unit) => unit.declaration.kind === kind);
        this.#names.set(block, (names = { phrases: of('let'), spots: of('spot') }));
      }
      yield* names[which];
    }
  }
}

/** Whether the first user has come or the last has gone. */
function put(users: Map<string, Set<Unit>>, name: string, unit: Unit, isThere: boolean): boolean {
  const known = users.get(name);
  if (isThere) {
    if (known === undefined) users.set(name, new Set([unit]));
    else known.add(unit);
    return known === undefined;
  }
  if (known?.delete(unit) !== true || known.size > 0) return false;
  users.delete(name);
  return true;
}

export function count(counts: Map<string, number>, name: string, by: number): void {
  const sum = (counts.get(name) ?? 0) + by;
  if (sum === 0) counts.delete(name);
  else counts.set(name, sum);
}
