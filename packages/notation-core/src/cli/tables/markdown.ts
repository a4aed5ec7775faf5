import { cellWriter, columnsOf, rowsOf } from '../../timeline/table.js';
import { type TableFormat, type TableJob, inParts } from './format.js';

/** A table as GitHub Flavored Markdown 0.29 has it (section 4.10), with the columns of CSV. */
export const markdown: TableFormat = (job) => inParts(lines(job));

function* lines(job: TableJob): Generator<string, void> {
  const columns = columnsOf(job.game, job.shape);
  yield line(columns);
  yield line(columns.map((name) => (TEXTS.includes(name) ? ':--' : '--:')));
  let done = 0;
  for (const table of job.routes) {
    const cells = cellWriter(table, job.shape);
    for (const row of rowsOf(table, job.shape)) {
      yield line(cells(row).map(escaped));
      done += row.ticks;
      job.progress(done);
    }
  }
}

/** Columns that hold words; the others hold numbers and stand at the right. */
const TEXTS = ['route', 'timecode', 'item'];

function line(cells: readonly string[]): string {
  return `| ${cells.join(' | ')} |\n`;
}

/** What could mean something in Markdown gets a backslash (CommonMark 0.31.2, section 2.4). */
function escaped(cell: string): string {
  return cell.replace(/[\\`*_{}[\]<>#|~&!]/g, '\\$&');
}
