import { replaceInScope } from '../model/scope.js';
import type { Declaration, Unit } from '../syntax/tree.js';
import type { Note } from './workspace-note.js';
import type { Edited } from './workspace-tree.js';

/** What others can know of a declaration; nothing else of it reaches over its own bounds. */
function headOf({ declaration }: Unit): string {
  const { kind } = declaration;
  switch (declaration.kind) {
    case 'route':
      return `${kind} ${declaration.name?.name ?? ''} to ${declaration.to?.name ?? ''}`;
    case 'rescue':
      return `${kind} ${rescued(declaration)}`;
    default:
      return kind;
  }
}

function rescued(declaration: Declaration): string {
  if (declaration.kind !== 'rescue') return '';
  return `@${declaration.spot?.name ?? ''} in ${declaration.route?.name ?? ''}`;
}

/** Declarations that a scope shows to others. */
const SHOWN: ReadonlySet<string> = new Set(['let', 'route', 'rescue', 'hands']);
/** Declarations that everything may depend on: the game, and what the log is compiled from. */
const GRAVE: ReadonlySet<string> = new Set(['game', 'spot', 'seen', 'ground']);

/**
 * Marks what an edit of a note makes uncertain, in all files that see its names. Says by `changed`
 * which notes have something to be done.
 */
export function mark(note: Note, edit: Edited, changed: (note: Note) => void): void {
  const { removed, added } = edit;
  changed(note);
  note.findings = undefined;
  for (const unit of added) note.pending.add(unit);
  if (note.scope?.games.length === 0) note.ofFilePending = true;
  if (removed.some((unit) => note.ofFile.has(unit))) note.ofFilePending = true;
  const both = [...removed, ...added];
  for (const other of note.seenBy) {
    changed(other);
    if (other.pointsInto.has(note)) other.findings = undefined;
    // A file that is only used counts its errors where it is used.
    if (!other.entry) {
      for (const user of other.seenBy) {
        user.ofFilePending = true;
        changed(user);
      }
    }
  }
  if (both.some(({ declaration }) => GRAVE.has(declaration.kind))) {
    for (const other of note.seenBy) other.reset();
    return;
  }
  const old = removed.filter(({ declaration }) => SHOWN.has(declaration.kind));
  const fresh = added.filter(({ declaration }) => SHOWN.has(declaration.kind));
  const shown = [...old, ...fresh];
  const inPlace =
    old.length === fresh.length &&
    old.every((unit, k) => {
      const { kind } = unit.declaration;
      const next = fresh[k];
      return kind !== 'let' && kind !== 'hands' && next !== undefined && headOf(unit) === headOf(next); // prettier-ignore
    });
  const about = aboutOf(old, fresh);
  for (const other of note.seenBy) {
    const { scope } = other;
    const clash = scope?.duplicates.some(({ unit }) => old.includes(unit)) === true;
    if (!inPlace || clash) other.dropScope();
    else if (scope !== undefined) {
      old.forEach((unit, k) => {
        const next = fresh[k];
        if (next !== undefined) replaceInScope(scope, unit, next, note);
      });
    }
    if (shown.length > 0) markIn(other, about, !inPlace);
  }
}

/** What a change is about: the names that other declarations would know it by. */
interface About {
  readonly phrases: ReadonlySet<string>;
  readonly routes: ReadonlySet<string>;
  readonly rescues: ReadonlySet<string>;
  readonly goals: ReadonlySet<string>;
}

function aboutOf(old: readonly Unit[], fresh: readonly Unit[]): About {
  const phrases = new Set<string>();
  const routes = new Set<string>();
  const rescues = new Set<string>();
  const goals = new Set<string>();
  for (const { declaration } of [...old, ...fresh]) {
    if (declaration.kind === 'let' && declaration.name) phrases.add(declaration.name.name);
    if (declaration.kind === 'route') {
      if (declaration.name !== undefined) routes.add(declaration.name.name);
      if (declaration.to !== undefined) goals.add(declaration.to.name);
    }
    if (declaration.kind === 'rescue') rescues.add(rescued(declaration));
  }
  return { phrases, routes, rescues, goals };
}

function markIn(note: Note, about: About, named: boolean): void {
  if (about.phrases.size > 0) {
    const users = usersOf(note, about.phrases);
    if (users === undefined) {
      note.reset();
      return;
    }
    for (const unit of users) note.recheck(unit);
  }
  for (const unit of note.rescues) {
    const { declaration } = unit;
    if (declaration.kind !== 'rescue') continue;
    const { route } = declaration;
    const known = route !== undefined && about.routes.has(route.name);
    if (known || about.rescues.has(rescued(declaration))) note.recheck(unit);
  }
  if (!named) return;
  // Names have come or gone: goals introduce spots, and another name may be the nearest now.
  for (const goal of about.goals) {
    for (const unit of note.spotUsers.get(goal) ?? []) note.recheck(unit);
  }
  for (const unit of note.guessing) note.recheck(unit);
}

/**
 * The declarations of a note that use one of the phrases, through other phrases too; undefined
 * where the log does, on which all else depends.
 */
function usersOf(note: Note, phrases: ReadonlySet<string>): Set<Unit> | undefined {
  const users = new Set<Unit>();
  const names = new Set(phrases);
  for (const name of names) {
    for (const source of note.sees) {
      for (const unit of source.phraseUsers.get(name) ?? []) {
        const { declaration } = unit;
        if (declaration.kind === 'seen' || declaration.kind === 'ground') return undefined;
        if (declaration.kind === 'let' && declaration.name) names.add(declaration.name.name);
        if (source === note) users.add(unit);
      }
    }
  }
  return users;
}
