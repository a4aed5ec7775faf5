import type { Game, Input } from '../model/game.js';
import type { Held, Source } from '../model/steps.js';
import { timeFormatter } from './clock.js';
import { labeller } from './timecode.js';
import type { Part, Timeline } from './types.js';

/** The ticks of one route that a table shows. */
export interface RouteTable {
  readonly name: string;
  readonly title: string;
  readonly timeline: Timeline;
  /** The window [from, to), in ticks. */
  readonly from: number;
  readonly to: number;
  /** The line, from 1, that a table gives for what is written there. */
  readonly line: (source: Source) => number;
}

export interface TableShape {
  /** One row for each stretch of equal ticks, with how many they are; else one row a tick. */
  readonly runs: boolean;
  /** A column of SMPTE ST 12-1 labels. */
  readonly timecode: boolean;
}

/** One tick, or one stretch of equal ticks. */
export interface TableRow {
  readonly tick: number;
  readonly ticks: number;
  /** The frame that runs on the first of the ticks; undefined where none does. */
  readonly frame: number | undefined;
  /** As many as ticks, or none. */
  readonly frames: number;
  readonly held: Held;
  readonly pause: boolean;
  /** The written text of the press, wait, bracket or window part; empty for the pace. */
  readonly item: string;
  readonly line: number | undefined;
}

/** The names of the columns, in their order. */
export function columnsOf(game: Game, shape: TableShape): string[] {
  return [
    'route',
    'tick',
    ...(shape.runs ? ['ticks'] : []),
    'frame',
    ...(shape.runs ? ['frames'] : []),
    'time',
    ...(shape.timecode ? ['timecode'] : []),
    'runs',
    ...game.inputs.map((input) => input.letter),
    ...(game.pause === undefined ? [] : [game.pause.letter]),
    'item',
    'line',
  ];
}

/** The rows of a route, made as they are read. */
export function* rowsOf(table: RouteTable, shape: TableShape): Generator<TableRow, void> {
  const { timeline, from, to } = table;
  for (const run of timeline.runs(from, to)) {
    const { held, pause } = run;
    const item = itemText(run.part, run.source);
    const line = run.source === undefined ? undefined : table.line(run.source);
    const size = shape.runs ? run.ticks : 1;
    for (let done = 0; done < run.ticks; done += size) {
      yield {
        tick: run.tick + done,
        ticks: size,
        frame: run.frame === undefined ? undefined : run.frame + done,
        frames: run.runs ? size : 0,
        held,
        pause,
        item,
        line,
      };
    }
  }
}

/** Writes the cells of rows: decimals for time and stick values, nothing where there is nothing. */
export function cellWriter(
  table: Pick<RouteTable, 'name' | 'timeline'>,
  shape: TableShape,
): (row: TableRow) => string[] {
  const { game } = table.timeline;
  const time = timeFormatter(game.clock);
  const label = shape.timecode ? labeller(game.clock) : undefined;
  return (row) => {
    const cells = [table.name, String(row.tick)];
    if (shape.runs) cells.push(String(row.ticks));
    cells.push(row.frame === undefined ? '' : String(row.frame));
    if (shape.runs) cells.push(String(row.frames));
    cells.push(time(row.tick));
    if (label !== undefined) cells.push(label(row.tick));
    cells.push(row.frames > 0 ? '1' : '0', ...inputCells(game, row.held, row.pause));
    cells.push(row.item, row.line === undefined ? '' : String(row.line));
    return cells;
  };
}

/** A cell for each declared input and the pause input: 0, or what a table shows while it is held. */
export function inputCells(game: Game, held: Held, pause: boolean): string[] {
  const cells = game.inputs.map((input) => (holds(held, input) ? input.shown : '0'));
  if (game.pause !== undefined) cells.push(pause ? '1' : '0');
  return cells;
}

/** Whether an input is among those held. */
export function holds(held: Held, input: Input): boolean {
  return (held & (1 << input.index)) !== 0;
}

/** What is written there: an item without its repeat and marks, or one bracket of a pause. */
export function itemText(part: Part, source: Source | undefined): string {
  if (source === undefined) return '';
  if (part === 'open') return '[';
  if (part === 'close') return ']';
  const { unit, item } = source;
  return unit.text.slice(item.start, item.repeat?.start ?? item.end).trimEnd();
}
