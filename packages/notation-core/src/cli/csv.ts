import { type Options, CsvError, parse } from 'csv-parse/sync';
import type { SheetRecord } from '../positions/sheet.js';
import { oneLine } from './exit.js';

/** The records of a CSV text, or where it stops being CSV, and why. */
export type CsvRead =
  { readonly records: readonly SheetRecord[] } | { readonly line: number; readonly reason: string };

const REASONS: Readonly<Record<string, string>> = {
  CSV_QUOTE_NOT_CLOSED: 'a quote is opened and never closed',
  CSV_INVALID_CLOSING_QUOTE: 'text follows a closing quote',
  INVALID_OPENING_QUOTE: 'a quote stands inside a cell that does not begin with one',
};

/**
 * Reads RFC 4180 (Shafranovich, October 2005), strictly, with any line end. Spreadsheets of some
 * countries part cells by semicolons or tabs: the header tells.
 */
export function readCsv(text: string): CsvRead {
  const records: SheetRecord[] = [];
  let line = 1;
  const options: Options = {
    delimiter: delimiterOf(text),
    record_delimiter: '\n',
    // Lines with too few or too many cells are named one by one by whoever knows the columns.
    relax_column_count: true,
    on_record: (cells: string[], { lines }) => {
      records.push({ line, cells });
      line = lines + 1;
      return null;
    },
  };
  try {
    // With one kind of line end the lines of a cell are counted right, whatever it had.
    parse(text.replace(/\r\n?/g, '\n'), options);
    return { records };
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return { line, reason: REASONS[error.code] ?? oneLine(error.message) };
  }
}

function delimiterOf(text: string): string {
  const header = /^\s*([^\r\n]*)/.exec(text)?.[1] ?? '';
  if (header.includes(',')) return ',';
  return header.includes(';') ? ';' : header.includes('\t') ? '\t' : ',';
}
