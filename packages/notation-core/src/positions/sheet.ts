import type { Scope } from '../model/scope.js';
import { nearest } from '../text/suggest.js';
import { type ItemsProblem, readItems } from './items.js';

/** The columns of a sheet for the console, in the order in which it is made. */
export const SHEET_COLUMNS = ['spot', 'items', 'landing', 'count', 'notes'] as const;
export type SheetColumn = (typeof SHEET_COLUMNS)[number];

/** One record of a sheet: the line (from 1) on which it begins, and its cells. */
export interface SheetRecord {
  readonly line: number;
  readonly cells: readonly string[];
}

/** One line of a sheet, understood. Spots are without `@`. */
export interface Sighting {
  readonly line: number;
  readonly from: string;
  readonly items: string;
  readonly to: string;
  readonly count: number;
  readonly note: string;
  /** What the items mean, to compare them with rows of the log. */
  readonly ids: readonly number[];
}

/** What keeps a line from being understood, and what its words need. */
export type SheetProblem =
  | { readonly code: 'columns'; readonly line: number; readonly found: string; readonly reason: 'missing' | 'unknown' | 'twice'; readonly column: string; readonly near: string } // prettier-ignore
  | { readonly code: 'cells'; readonly line: number; readonly found: number; readonly wanted: number } // prettier-ignore
  | { readonly code: 'empty'; readonly line: number; readonly column: SheetColumn }
  | { readonly code: 'count'; readonly line: number; readonly written: string }
  | { readonly code: 'spot'; readonly line: number; readonly column: SheetColumn; readonly written: string } // prettier-ignore
  | { readonly code: 'new-spot'; readonly line: number; readonly column: SheetColumn; readonly name: string; readonly near: string } // prettier-ignore
  | { readonly code: 'items'; readonly line: number; readonly written: string; readonly problem: ItemsProblem } // prettier-ignore
  | {
      readonly code: 'too-many';
      readonly line: number;
      readonly from: string;
      readonly to: string;
    };

export interface SheetRead {
  readonly sightings: readonly Sighting[];
  readonly problems: readonly SheetProblem[];
  /** Lines that were not filled in: neither landing nor count. */
  readonly empty: number;
  /** Lines among those that have a note all the same. */
  readonly noted: number;
}

export interface SheetOptions {
  /** Whether spots that nothing names yet are taken. */
  readonly newSpots?: boolean;
}

/** Sightings on one line of a sheet; nobody tries a thing more often. */
const MOST = 999_999_999;

/** The header of a sheet: where each column stands. Columns may come in any order. */
function columnsOf(header: SheetRecord): Map<SheetColumn, number> | SheetProblem {
  const found = header.cells.join(', ');
  const at = new Map<SheetColumn, number>();
  const problem = (reason: 'missing' | 'unknown' | 'twice', column: string): SheetProblem => {
    const near = reason === 'unknown' ? (nearest(column, SHEET_COLUMNS) ?? '') : '';
    return { code: 'columns', line: header.line, found, reason, column, near };
  };
  for (const [i, cell] of header.cells.entries()) {
    const written = cell.trim().toLowerCase();
    const column = SHEET_COLUMNS.find((each) => each === written);
    if (column === undefined) return problem('unknown', cell.trim());
    if (at.has(column)) return problem('twice', column);
    at.set(column, i);
  }
  const missing = SHEET_COLUMNS.find((column) => column !== 'notes' && !at.has(column));
  return missing === undefined ? at : problem('missing', missing);
}

/**
 * Reads the records of a sheet, header first. Every line is either a sighting, or empty, or a
 * problem; nothing is guessed.
 */
export function readSheet(
  records: Iterable<SheetRecord>,
  scope: Scope,
  options: SheetOptions = {},
): SheetRead {
  const sightings: Sighting[] = [];
  const problems: SheetProblem[] = [];
  let empty = 0;
  let noted = 0;
  let columns: Map<SheetColumn, number> | undefined;
  let width = 0;
  const known = knownSpots(scope);
  for (const record of records) {
    if (isBlank(record)) continue;
    const { line, cells } = record;
    if (columns === undefined) {
      const read = columnsOf(record);
      if (!(read instanceof Map)) return { sightings, problems: [read], empty, noted };
      columns = read;
      width = cells.length;
      continue;
    }
    if (cells.length !== width) {
      problems.push({ code: 'cells', line, found: cells.length, wanted: width });
      continue;
    }
    const at = columns;
    const cell = (column: SheetColumn): string => (cells[at.get(column) ?? -1] ?? '').trim();
    if (cell('landing') === '' && cell('count') === '') {
      empty++;
      if (cell('notes') !== '') noted++;
      continue;
    }
    const read = readLine(line, cell, scope, known, options);
    if ('code' in read) problems.push(read);
    else sightings.push(read);
  }
  if (columns === undefined) {
    const header: SheetRecord = { line: 1, cells: [] };
    const read = columnsOf(header);
    if (!(read instanceof Map)) problems.push(read);
  }
  return { sightings, problems, empty, noted };
}

function isBlank({ cells }: SheetRecord): boolean {
  return cells.length <= 1 && (cells[0] ?? '').trim() === '';
}

/** Every spot that something names: declared, logged, or spoken of by a route. */
function knownSpots(scope: Scope): ReadonlySet<string> {
  const names = new Set([...scope.spots.keys(), ...scope.logged]);
  for (const { declaration } of scope.routes.values()) {
    if (declaration.to !== undefined) names.add(declaration.to.name);
    if (declaration.from === undefined || declaration.from === 'anywhere') continue;
    for (const { spot } of declaration.from) names.add(spot.name);
  }
  return names;
}

function readLine(
  line: number,
  cell: (column: SheetColumn) => string,
  scope: Scope,
  known: ReadonlySet<string>,
  options: SheetOptions,
): Sighting | SheetProblem {
  for (const column of ['spot', 'items', 'landing'] as const) {
    if (cell(column) === '') return { code: 'empty', line, column };
  }
  const count = readCount(cell('count'));
  if (count === undefined) return { code: 'count', line, written: cell('count') };
  const from = cell('spot').replace(/^@/, '');
  const to = cell('landing').replace(/^@/, '');
  for (const [column, name] of [
    ['spot', from],
    ['landing', to],
  ] as const) {
    // prettier-ignore
    if (!isSpotName(name)) return { code: 'spot', line, column, written: cell(column) };
    if (known.has(name) || options.newSpots === true) continue;
    return { code: 'new-spot', line, column, name, near: nearest(name, known) ?? '' };
  }
  // A line end in a cell is a blank: the log has a row on each line.
  const items = cell('items').replace(/\s*[\r\n]\s*/g, ' ');
  const read = readItems({ from, items, to }, scope);
  if (!('ids' in read)) {
    return { code: 'items', line, written: items.slice(0, 60), problem: read };
  }
  return { line, from, items, to, count, note: cell('notes'), ids: read.ids };
}

/** A count as a sheet has it: `3`, `x3`, or nothing for once. */
function readCount(written: string): number | undefined {
  if (written === '') return 1;
  const digits = /^x?([0-9]{1,9})$/.exec(written)?.[1];
  const count = Number(digits ?? 0);
  return count >= 1 && count <= MOST ? count : undefined;
}

function isSpotName(name: string): boolean {
  return name.length <= 100 && /^[A-Za-z0-9_]+$/.test(name);
}
