import type { Game } from '../model/game.js';
import type { Held, Source } from '../model/steps.js';

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
  readonly source: Source | undefined;
}

/**
 * What a sequence holds on every tick, compressed: repeats stay repeats, lengths are
 * arithmetic, and nothing in it is as long as the time that it describes.
 */
export interface Timeline {
  readonly game: Game;
  /** Ticks, and frames among them. */
  readonly ticks: number;
  readonly frames: number;
  /** The stretch that holds the tick, cut to nothing: `tick` is where it begins. Logarithmic time. */
  at(tick: number): Run | undefined;
  /** The stretches of [from, to) in order, cut to the window, produced as they are read. */
  runs(from?: number, to?: number): IterableIterator<Run>;
}
