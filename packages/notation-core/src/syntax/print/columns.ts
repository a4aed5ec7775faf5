import * as T from '../tokens.js';
import type { LaidEntry } from './lines.js';
import type { Outline } from './spaces.js';

/** A wider cell does not move its column: one long row must not push all others aside. */
const WIDEST = 40;

/** The cells of one line, as the pieces that they begin with, and where the last one ends. */
interface Row {
  readonly cells: readonly number[];
  readonly end: number;
}

/**
 * Sets the lines of a block in columns: rows of a log by `:`, `->` and their count, moves by
 * `by`, cues by their text, inputs by what they are. A blank line begins a new table.
 */
export function align(gaps: string[], o: Outline, laid: readonly LaidEntry[]): void {
  let kind: LaidEntry['kind'] | undefined;
  let table: LaidEntry[][] = [];
  let seen = 0;
  const flush = () => {
    if (kind === 'input') alignInputs(gaps, o, table);
    else alignRows(gaps, o, rowsOf(o, table), 1);
    table = [];
  };
  for (const entry of laid) {
    const before = gaps.slice(seen + 1, entry.from + 1).join('');
    seen = entry.to;
    if (entry.kind !== kind || before.includes('\n\n')) flush();
    kind = entry.kind;
    const line = table[table.length - 1];
    if (line !== undefined && !before.includes('\n')) line.push(entry);
    else if (before.includes('\n')) table.push([entry]);
  }
  flush();
}

/** The cells of the lines that hold one entry, as far as that has cells. */
function rowsOf(o: Outline, table: readonly LaidEntry[][]): Row[] {
  const rows: Row[] = [];
  for (const [entry, second] of table) {
    if (entry === undefined || second !== undefined || !entry.joined) continue;
    const cells = cellsOf(o, entry);
    if (cells.length > 1) rows.push({ cells, end: entry.to });
  }
  return rows;
}

function cellsOf({ pieces }: Outline, { kind, from, to }: LaidEntry): number[] {
  const cells = [from];
  for (let k = from + 1; k <= to; k++) {
    const type = pieces[k]?.type;
    const begins =
      (kind === 'row' && (type === T.Colon || type === T.Arrow || type === T.Sightings)) ||
      (kind === 'move' && type === T.By) ||
      (kind === 'cue' && type === T.Str && k === from + 2) ||
      (kind === 'input' && (type === T.Equals || type === T.Str));
    if (begins) cells.push(k);
  }
  return cells;
}

/** Several inputs on a line stand on a grid; one a line, in columns of their parts. */
function alignInputs(gaps: string[], o: Outline, table: readonly LaidEntry[][]): void {
  if (table.every((line) => line.length === 1)) {
    alignRows(gaps, o, rowsOf(o, table), 1);
    return;
  }
  const rows = table
    .filter((line) => line.every((entry) => entry.joined))
    .map((line) => ({ cells: line.map(({ from }) => from), end: line[line.length - 1]?.to ?? 0 }));
  alignRows(gaps, o, rows, 3);
}

function alignRows(gaps: string[], o: Outline, rows: readonly Row[], apart: number): void {
  const widest: number[] = [];
  const widthOf = (row: Row, c: number): number => {
    const from = row.cells[c] ?? 0;
    const to = (row.cells[c + 1] ?? row.end + 1) - 1;
    return (o.width[to] ?? 0) - (o.width[from] ?? 0) + (o.pieces[from]?.text.length ?? 0);
  };
  for (const row of rows) {
    for (let c = 0; c + 1 < row.cells.length; c++) {
      const width = widthOf(row, c);
      if (width <= WIDEST) widest[c] = Math.max(widest[c] ?? 0, width);
    }
  }
  for (const row of rows) {
    for (let c = 1; c < row.cells.length; c++) {
      const fill = Math.max(0, (widest[c - 1] ?? 0) - widthOf(row, c - 1));
      gaps[row.cells[c] ?? 0] = ' '.repeat(apart + fill);
    }
  }
}
