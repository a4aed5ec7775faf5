import type { PauseTiming } from '../model/game.js';
import type { Held } from '../model/steps.js';
import type { PauseEdge } from './nodes.js';

/** Raw ticks, as a controller gives them. */
export interface HeldTicks {
  readonly ticks: number;
  readonly held: Held;
  readonly pause: boolean;
}

/** What the game makes of them; stretches are cut where its state changes. */
export interface MachineRun extends HeldTicks {
  readonly tick: number;
  readonly runs: boolean;
  /** The frame that runs on the first tick, where one does. */
  readonly frame: number | undefined;
  /** What the press of the pause input that begins here does; the menu may not take it. */
  readonly edge: PauseEdge | 'ignored' | undefined;
}

/**
 * Replays held inputs through the edge rules of section 4, and knows nothing of windows and
 * brackets: whether a timeline does what it claims can be told from its inputs alone.
 *
 * Where the rules are silent, a press between the unpausing one and the first frame does
 * nothing, and a menu that is open at tick 0 takes a press at once.
 */
export function* pauseMachine(
  ticks: Iterable<HeldTicks>,
  timing: PauseTiming,
  startPaused = false,
): IterableIterator<MachineRun> {
  const { open, resume } = timing;
  let tick = 0;
  let frame = 0;
  let up = true;
  let paused = startPaused;
  /** The menu takes no press before this tick; paused, until `resumeAt`. */
  let takesFrom = 0;
  let resumeAt = Infinity;
  for (const { ticks: all, held, pause } of ticks) {
    let left = all;
    while (left > 0) {
      if (paused && tick >= resumeAt) {
        paused = false;
        resumeAt = Infinity;
      }
      let edge: MachineRun['edge'];
      if (pause && up) {
        if (!paused) {
          edge = 'pauses';
          paused = true;
          takesFrom = tick + open + 1;
        } else if (tick < takesFrom || resumeAt !== Infinity) edge = 'ignored';
        else {
          edge = 'unpauses';
          if (resume === 0) paused = false;
          else resumeAt = tick + resume;
        }
      }
      up = !pause;
      const runs = !paused;
      const length = edge === undefined ? Math.min(left, resumeAt - tick) : 1;
      yield {
        tick, ticks: length, held, pause, runs, frame: runs ? frame : undefined, edge,
      }; // prettier-ignore
      tick += length;
      if (runs) frame += length;
      left -= length;
    }
  }
}
