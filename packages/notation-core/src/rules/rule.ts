import type { GameDeclaration, Item, Unit } from '../syntax/tree.js';
import type { SyntaxProblems } from '../syntax/problems.js';
import type { ModelProblems } from '../model/problems.js';
import type { PositionProblems } from '../positions/problems.js';
import type { Program, SourceFile } from '../model/program.js';
import type { Scope } from '../model/scope.js';
import type { FixSafety, Params, Severity } from '../text/finding.js';
import type { Place } from './place.js';
import type { Walk } from './walk.js';

/**
 * What a rule is: a name, a page, words, and (unless the parser or the model finds it) a check.
 *
 * A rule lives in one file, and no other file holds a word of it. What the syntax and the model
 * can find is listed in their `problems.ts`; each code has a rule of the same name, made with
 * `problemRule`, whose parameters are typed there. A rule of our own is made with `rule`.
 */

/** What a rule's page says. The examples are notes of the game in `example.ts`. */
export interface RulePage {
  readonly what: string;
  readonly why: string;
  /** A note that the rule reports. */
  readonly bad: string;
  /** The same note as it should be; no rule reports anything in it. */
  readonly instead: string;
  /** What the fix does and how safe it is, where there is one. */
  readonly fix?: string;
}

/** A finding in words: what is wrong, why (with the numbers that prove it), and one way out. */
export interface Message {
  readonly title: string;
  readonly reason: string;
  readonly wayOut: string;
}

export type { Place };

/** A fix whose edits count from the start of the unit that the finding is in. */
export interface LocalFix {
  readonly title: string;
  readonly safety: FixSafety;
  readonly edits: readonly LocalEdit[];
}
export interface LocalEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/**
 * Takes what a check finds. Fixes are made only where a finding is kept, and after the walk has gone
 * on: what they need of it has to be taken from it before.
 */
export type Report<P extends Params> = (
  place: Place,
  params: P,
  fixes?: () => readonly LocalFix[],
) => void;

/** One declaration and what its names mean. */
export interface UnitContext {
  readonly unit: Unit;
  readonly scope: Scope;
}

/** One file of a program. `entry`: it was asked for, not only used. */
export interface FileContext {
  readonly program: Program;
  readonly file: SourceFile;
  readonly scope: Scope;
  /** How many errors another file has by itself. */
  readonly errorsIn: (file: SourceFile) => number;
  readonly facts: FileFacts;
}

/** What the declarations of a file are together; an editor keeps it while they change. */
export interface FileFacts {
  /** Whether a declaration has text that cannot be read; whether one is a route. */
  readonly broken: boolean;
  readonly routes: boolean;
  /** The declarations of phrases and of spots, in order. */
  phrases(): Iterable<Unit>;
  spots(): Iterable<Unit>;
  /** Whether a declaration uses a phrase, itself left out; the names of all that are used. */
  uses(phrase: string): boolean;
  used(): Iterable<string>;
  /** Whether any declaration of the program names a spot. */
  names(spot: string): boolean;
}

/** Where an item stands in the text. */
export interface ItemPlace {
  readonly unit: Unit;
  readonly inPause: boolean;
  readonly before: Item | undefined;
  readonly after: Item | undefined;
}

/**
 * Where a check looks. A rule takes the moments that it needs; the walk over the steps is made
 * once for all rules (`walk.ts` says what is known at each moment).
 */
export interface Hooks<P extends Params> {
  /** A press, a part of a window, or a hold begins. */
  readonly begin?: (walk: Walk, report: Report<P>) => void;
  /** Inputs go down on a tick. */
  readonly rise?: (walk: Walk, report: Report<P>) => void;
  /** `[` pauses the game. */
  readonly open?: (walk: Walk, report: Report<P>) => void;
  /** A window inside `[ ]` has ended in its pause. */
  readonly window?: (walk: Walk, report: Report<P>) => void;
  /** Each item as it is written, in declarations whose text matches `where`. */
  readonly item?: (item: Item, at: ItemPlace, report: Report<P>) => void;
  readonly where?: RegExp;
  readonly game?: (declaration: GameDeclaration, context: UnitContext, report: Report<P>) => void;
  readonly file?: (context: FileContext, report: Report<P>) => void;
}

export interface Rule<N extends string = string, P extends Params = Params> {
  readonly name: N;
  readonly severity: Severity;
  /** One line for tables and lists. */
  readonly title: string;
  readonly page: RulePage;
  message(params: P): Message;
  /** Fixes of what the parser or the model found. */
  fixes?(place: Place, params: P): readonly LocalFix[];
  readonly check?: Hooks<P>;
  /** Whether its moments count in the log and on ground as well: what was tried was possible. */
  readonly inLog?: boolean;
  /** Neither settings nor a silence reach it: what it reports keeps a note from being read. */
  readonly fixed?: boolean;
}

export type Problems = SyntaxProblems & ModelProblems & PositionProblems;
export type ProblemCode = keyof Problems;

/** The rule of a code of the syntax, the model or the positions. */
export function problemRule<const K extends ProblemCode>(
  made: Rule<K, Problems[K]>,
): Rule<K, Problems[K]> {
  return made;
}

/** A rule that finds by itself what it reports. */
export function rule<const N extends string, P extends Params>(made: Rule<N, P>): Rule<N, P> {
  return made;
}

/** `D3` out of a place: the text as the player wrote it. */
export function writtenAt(place: Place): string {
  return place.unit.text.slice(place.start, Math.min(place.end, place.start + 60));
}

/** `3 ticks`, `1 tick`. */
export function many(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? '' : 's'}`;
}

/** `Did you mean hop?`, or the other way out where no name is near. */
export function didYouMean(near: string, otherwise: string): string {
  return near === '' ? otherwise : `Did you mean ${near}?`;
}

/** A fix that puts the near name in the place of the written one. */
export function renameFix(place: Place, near: string): readonly LocalFix[] {
  if (near === '') return [];
  const edits = [{ start: place.start, end: place.end, text: near }];
  return [{ title: `Write ${near}`, safety: 'suggestion', edits }];
}
