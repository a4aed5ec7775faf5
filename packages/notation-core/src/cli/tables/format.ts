import type { Game } from '../../model/game.js';
import type { RouteTable, TableShape } from '../../timeline/table.js';
import type { Paint } from '../screen.js';

/** What is to be written: the routes of one file, which share its game. */
export interface TableJob {
  readonly game: Game;
  readonly routes: readonly RouteTable[];
  readonly shape: TableShape;
  /** Colours for the terminal. */
  readonly paint: Paint;
  /** Takes the number of ticks that were written so far, all routes together. */
  readonly progress: (ticks: number) => void;
}

/**
 * A form of tables: parts of about 64 kB, made as they are asked for. A part is good until the next
 * one is asked for, as its bytes may be used again.
 */
export type TableFormat = (job: TableJob) => Iterable<string | Uint8Array>;

/** The size of a part, in bytes or characters. */
export const PART = 65536;

/** Lines put together to parts. */
export function* inParts(lines: Iterable<string>): Generator<string, void> {
  let part = '';
  for (const line of lines) {
    part += line;
    if (part.length >= PART) {
      yield part;
      part = '';
    }
  }
  if (part !== '') yield part;
}
