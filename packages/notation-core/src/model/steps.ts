import type { Item, Repeat, Unit, Way } from '../syntax/tree.js';
import type { Game } from './game.js';

/**
 * What a sequence means: its items with the spacing made explicit. Steps form a graph, not a
 * tree: a phrase that is used a thousand times is one object, so that meaning costs no more
 * memory than text. Whoever walks steps keeps to one visit a node and context.
 */

/** A set of inputs held: bit i is the i-th declared input of the game (the pause input is none). */
export type Held = number;

/** How many frames or ticks: `lo` to `hi`, equal unless a range was written. */
export interface Span2 {
  readonly lo: number;
  readonly hi: number;
}

/** Where a step is written. */
export interface Source {
  readonly unit: Unit;
  readonly item: Item;
}

export interface PressStep extends Span2 {
  readonly kind: 'press';
  readonly held: Held;
  readonly source: Source;
}

/** Ticks that hold nothing. `written` is false for the pace between two items. */
export interface WaitStep extends Span2 {
  readonly kind: 'wait';
  readonly written: boolean;
  readonly source: Source;
}

/** `~`, or the pace where it is `~`: neutral frames up to the game's `settle`. */
export interface SettleStep {
  readonly kind: 'settle';
  readonly written: boolean;
  readonly source: Source;
}

/** `[`: the game pauses. The presses that touch it are its neighbours in the list. */
export interface OpenStep {
  readonly kind: 'open';
  readonly source: Source;
}

/** One window inside `[ ]`: unpause, let the frames of its parts run, pause again. */
export interface WindowStep {
  readonly kind: 'window';
  readonly parts: readonly WindowPart[];
  readonly source: Source;
}
export interface WindowPart extends Span2 {
  /** 0 for a wait. */
  readonly held: Held;
  readonly source: Source;
}

/** `]`: the game runs again for good. */
export interface CloseStep {
  readonly kind: 'close';
  readonly source: Source;
}

/** `count` times the body, with `between` (the pace, or nothing) between two of them. */
export interface RepeatStep extends Span2 {
  readonly kind: 'repeat';
  readonly body: Sequence;
  readonly between: readonly Step[];
  readonly repeat: Repeat;
  readonly source: Source;
}

/** The inputs are held on every tick of the body. */
export interface HoldStep {
  readonly kind: 'hold';
  readonly held: Held;
  readonly body: Sequence;
  readonly source: Source;
}

/** A group, a phrase, or the way taken at a `choose`. */
export interface GroupStep {
  readonly kind: 'group';
  readonly of: 'group' | 'phrase' | 'way';
  readonly body: Sequence;
  readonly source: Source;
  readonly way: Way | undefined;
}

/** The claim that the character is at the spot now. No ticks. */
export interface ClaimStep {
  readonly kind: 'claim';
  readonly spot: string;
  readonly start: number;
  readonly end: number;
  readonly unit: Unit;
}

export type TimedStep =
  | PressStep
  | WaitStep
  | SettleStep
  | OpenStep
  | WindowStep
  | CloseStep
  | RepeatStep
  | HoldStep
  | GroupStep;
export type Step = TimedStep | ClaimStep;

/** A step without steps inside. */
export type Leaf = PressStep | WaitStep | SettleStep | OpenStep | WindowStep | CloseStep;

export interface Sequence {
  readonly steps: readonly Step[];
  /** The first and the last leaf, through groups, holds and repeats; undefined where there is none. */
  readonly first: Leaf | undefined;
  readonly last: Leaf | undefined;
}

export const EMPTY: Sequence = { steps: [], first: undefined, last: undefined };

/** A sequence with the game whose inputs its bits stand for. */
export interface Resolved {
  readonly sequence: Sequence;
  readonly game: Game;
}

/** Whether a leaf is a wait that somebody wrote: it takes the place of the pace. */
export function isWrittenWait(leaf: Leaf): boolean {
  return (leaf.kind === 'wait' || leaf.kind === 'settle') && leaf.written;
}
