import { scopeOf } from '../../model/scope.js';
import { type Merged, mergeSightings } from '../../positions/merge.js';
import { type SheetRead, readSheet } from '../../positions/sheet.js';
import { type Call, type Command, SIZE_OPTION } from '../command.js';
import { readCsv } from '../csv.js';
import { EXIT, type ExitCode, Trouble, systemReason, troubleLine } from '../exit.js';
import { readText, writeFileSafe } from '../io.js';
import { loadNotes } from '../load.js';
import { print } from '../output.js';
import { report } from '../report.js';
import { painter } from '../screen.js';
import { sheetWords } from '../sheet-words.js';

export const command: Command = {
  name: 'log',
  summary: 'Read a filled-in sheet back into the log of a note',
  details: [
    'The sheet is CSV with the columns spot, items, landing, count and notes, as tiptoe gaps --format csv makes it. A line with a landing and no count was seen once; a line with neither is passed over. A move that the log has with that landing counts on; any other becomes a row at the end of the last seen block, with its note behind it as a comment. Everything else in the note stays as it is.',
    'A line that cannot be read is named with its number and the reason, and nothing is changed. With --skip-bad the good lines are taken all the same.',
    'Counts add up: a sheet that is read twice counts twice.',
  ],
  arguments: [
    { name: '<file>', summary: 'the note with the log', completes: 'notes' },
    { name: '<sheet>', summary: 'the sheet, a CSV file', completes: 'files' },
  ],
  options: [
    { flags: '--dry-run', summary: 'write nothing; show what would change' },
    { flags: '--new-spots', summary: 'take spots that the note does not name yet' },
    { flags: '--skip-bad', summary: 'leave out lines that cannot be read, and take the others' },
    SIZE_OPTION,
  ],
  examples: [
    {
      line: 'tiptoe log barrier.tiptoe tonight.csv --dry-run',
      does: 'shows what the sheet would change',
    },
    { line: 'tiptoe log barrier.tiptoe tonight.csv', does: 'takes it into the log' },
  ],
  run,
};

async function run({ args: [path = '', sheet = ''], options }: Call): Promise<ExitCode> {
  const { program, marked } = loadNotes([path], { maxSize: options.maxSize });
  const [refused] = program.unreadable;
  if (refused !== undefined) throw new Trouble(refused.path, refused.reason);
  const file = program.files.get(program.entries[0] ?? '');
  if (file === undefined) return EXIT.trouble;
  const scope = scopeOf(program, file);
  const broken = [...program.files.values()].find(
    ({ tree, problems }) => problems.length > 0 || tree.units.some(({ unit }) => unit.problems.length > 0), // prettier-ignore
  );
  if (broken !== undefined) {
    throw new Trouble(broken.path, 'it has errors, and a log is only added to where all of it is understood', 'tiptoe check shows them.'); // prettier-ignore
  }
  if (scope.games.length === 0) {
    throw new Trouble(file.path, 'no game is in sight, so no input means anything', 'Declare one, or use the file that does.'); // prettier-ignore
  }
  const read = readText(sheet, options.maxSize);
  if ('reason' in read) throw new Trouble(sheet, read.reason);
  const csv = readCsv(read.text);
  if ('reason' in csv) {
    throw new Trouble(`${sheet}:${csv.line}`, `the sheet is no CSV from here on: ${csv.reason}`, 'Put quotes around a cell that holds quotes, and write each of those twice.'); // prettier-ignore
  }
  const seen = readSheet(csv.records, scope, { newSpots: options.flag('newSpots') });
  const merged = mergeSightings(file.tree, scope, seen.sightings);
  const bad = [...seen.problems, ...merged.problems].sort((a, b) => a.line - b.line);
  for (const problem of bad) {
    const { reason, wayOut } = sheetWords(problem);
    report(troubleLine(`${sheet}:${problem.line}`, reason, wayOut));
  }
  const skips = options.flag('skipBad') && !bad.some(({ code }) => code === 'columns');
  if (bad.length > 0 && !skips) {
    const lines = bad.length === 1 ? 'a line' : `${bad.length} lines`;
    await print(`Nothing was changed: ${lines} of the sheet cannot be read.\n`);
    return EXIT.findings;
  }
  if (options.flag('dryRun')) {
    const { paintDiff, unifiedDiff } = await import('../unified.js');
    await print(paintDiff(unifiedDiff(file.path, file.tree.text, merged.text), painter(1)));
    report(summary(seen, merged, bad.length, true));
  } else {
    if (merged.text !== file.tree.text) {
      try {
        const bom = marked.has(file.path);
        writeFileSafe(file.path, merged.text, { replace: true, bom });
      } catch (error) {
        throw new Trouble(file.path, `it cannot be written: ${systemReason(error)}`);
      }
    }
    await print(`${summary(seen, merged, bad.length, false)}\n`);
  }
  if (merged.added === 0 && merged.raised > 1 && merged.alike === merged.raised) {
    report('every line of the sheet stood in the log with the same count; if it had been read before, it counts twice now.'); // prettier-ignore
  }
  return bad.length > 0 ? EXIT.findings : EXIT.fine;
}

function summary(seen: SheetRead, merged: Merged, bad: number, dry: boolean): string {
  const rows = (count: number): string => `${count} ${count === 1 ? 'row' : 'rows'}`;
  const lines = (count: number): string => `${count} ${count === 1 ? 'line' : 'lines'}`;
  const would = dry ? 'would be ' : '';
  const parts = [`${rows(merged.added)} ${would}added, ${rows(merged.raised)} ${would}raised`];
  if (seen.empty > 0) {
    const noted = seen.noted > 0 ? ` (${seen.noted} with a note that stays in the sheet)` : '';
    parts.push(`${lines(seen.empty)} not filled in${noted}`);
  }
  if (bad > 0) parts.push(`${lines(bad)} left out`);
  return `${parts.join(', ')}.`;
}
