import type { Unit } from '../syntax/tree.js';

/**
 * What the meaning of a note can lack, and the parameters its words need. As with the syntax,
 * the rule of the same name holds the words.
 */
export interface ModelProblems {
  'use-not-found': { path: string; reason: string };
  'use-cycle': { path: string; circle: string };
  /** `kind` in words: a phrase, a route, hands, a setting …; `near` a known name or ''. */
  'unknown-name': { kind: string; name: string; near: string };
  'undeclared-spot': { name: string; near: string };
  'duplicate-name': { kind: string; name: string };
  /** `game` is the title of the game in scope, '' where none is; `has` its letters. */
  'undeclared-input': { letter: string; game: string; has: string };
  /** A phrase that needs itself; `circle` shows how. */
  'phrase-in-itself': { circle: string };
  /** Nothing in scope declares a game, but inputs are pressed; or two files do. */
  'game-unclear': { count: number; titles: string };
  /** A setting that is missing or has a value that it cannot have. */
  'bad-setting': { setting: string; written: string; wanted: string };
  /** A length in time that is no whole number of frames. */
  'partial-frame': { written: string; frames: string; below: number; above: number; clock: string };
  'range-backwards': { written: string; lo: number; hi: number };
  /** `~`, or a pace of `~`, where nothing ever settles; `where` is 'pause' or 'hold'. */
  'settle-misplaced': { where: string; written: boolean };
  /** `~` in a game without `settle`. */
  'settle-unknown': { game: string };
  /** Two items with a space between and no pace to say how long it is. */
  'spacing-unknown': { before: string; after: string };
  'nested-pause': { written: string };
  /** `[ ]` in a game without a pause input. */
  'pause-undeclared': { game: string };
  /** The pause input's letter pressed like another. */
  'bare-pause': { letter: string };
  /** A group, phrase or repeat joined inside `[ ]`. */
  'window-form': { written: string };
  /** `-` beside a wait outside `[ ]`. */
  'needless-join': { written: string };
  /** `choose` where no player can choose: in a row of the log, a ground or a pause. */
  'choose-misplaced': { where: string };
  'zero-frames': { written: string; kind: string };
  /** Phrases inside phrases and groups beyond the limit. */
  'phrases-too-deep': { limit: number };
  /** A route longer than numbers are exact. */
  'too-long': { limit: number };
}

export type ModelCode = keyof ModelProblems;

/** One problem, its place counted from the start of the unit. */
export interface ModelProblem<K extends ModelCode = ModelCode> {
  readonly code: K;
  readonly unit: Unit;
  readonly start: number;
  readonly end: number;
  readonly params: ModelProblems[K];
}

/** Takes problems as they are found. */
export type Report = <K extends ModelCode>(
  code: K,
  at: { readonly unit: Unit; readonly start: number; readonly end: number },
  params: ModelProblems[K],
) => void;

export function collector(into: ModelProblem[]): Report {
  return (code, at, params) => {
    into.push({ code, unit: at.unit, start: at.start, end: at.end, params });
  };
}
