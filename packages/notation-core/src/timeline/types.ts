import type { Game } from '../model/game.js';
import type { Held, Source } from '../model/steps.js';

/**
 * What a stretch is a piece of: a press; a wait that is written; the pace between two items;
 * `[` with its menu; a window with its menu; `]`.
 */
export type Part = 'press' | 'wait' | 'pace' | 'open' | 'window' | 'close';

/**
 * A stretch of equal ticks. All counts are in ticks, exact and at most 2^53 - 1.
 * `source` is the press, wait, bracket or window part that the ticks belong to; undefined for
 * the pace between two items.
 */
export interface Run {
  /** The first tick of the stretch, from 0. */
  readonly tick: number;
  readonly ticks: number;
  /** The frame that runs on the first tick; undefined where the game is paused. */
  readonly frame: number | undefined;
  /** Whether a frame runs on these ticks. */
  readonly runs: boolean;
  readonly held: Held;
  /** Whether the pause input is held. */
  readonly pause: boolean;
  readonly part: Part;
  readonly source: Source | undefined;
}

/** Takes one stretch; `frame` is -1 where no frame runs. True goes on, false ends the visit. */
export type Visitor = (
  tick: number,
  ticks: number,
  frame: number,
  held: Held,
  pause: boolean,
  part: Part,
  source: Source | undefined,
) => boolean;

/**
 * Reads stretches one after another without making an object for each. The fields describe
 * the stretch that the last `next()` reached; before the first `next()` they mean nothing.
 */
export interface RunCursor {
  readonly tick: number;
  readonly ticks: number;
  /** The frame that runs on the first tick, or -1. */
  readonly frame: number;
  readonly held: Held;
  readonly pause: boolean;
  readonly part: Part;
  readonly source: Source | undefined;
  /** Goes to the next stretch; false where there is none. */
  next(): boolean;
}

/**
 * What a sequence holds on every tick, compressed: repeats stay repeats, lengths are
 * arithmetic, and nothing in it is as long as the time that it describes.
 *
 * Windows [from, to) are in ticks; bounds outside the timeline are moved to its ends, and
 * fractions are cut off. Stretches are cut to the window. Each belongs to one press, wait or
 * bracket: neighbours that hold the same inputs are not merged.
 */
export interface Timeline {
  readonly game: Game;
  /** Whether tick 0 finds the game paused. */
  readonly startsPaused: boolean;
  /** Ticks, and frames among them. */
  readonly ticks: number;
  readonly frames: number;
  /** The stretch that holds the tick, whole. Logarithmic in the text. */
  at(tick: number): Run | undefined;
  /** The stretches of [from, to) in order, produced as they are read. */
  runs(from?: number, to?: number): IterableIterator<Run>;
  /** The same, for millions of stretches. */
  cursor(from?: number, to?: number): RunCursor;
  /** The same; false where the visitor ended it. */
  visit(from: number, to: number, visitor: Visitor): boolean;
}

/** What there is in place of a timeline that would be longer than numbers are exact. */
export interface TooLong {
  readonly tooLong: true;
  /** The most ticks that a timeline can have. */
  readonly limit: number;
}
