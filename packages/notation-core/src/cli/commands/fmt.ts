import { parse } from '../../syntax/parse.js';
import { format } from '../../syntax/print.js';
import type { Tree } from '../../syntax/tree.js';
import { LineIndex } from '../../text/lines.js';
import { type Call, type Command, SIZE_OPTION } from '../command.js';
import { EXIT, type ExitCode, Trouble, systemReason, troubleLine } from '../exit.js';
import { findNotes } from '../files.js';
import { type ReadResult, readStdin, readText, writeFileSafe } from '../io.js';
import { notePaths } from '../load.js';
import { type Output, openOutput } from '../output.js';
import { Progress } from '../progress.js';
import { report, reportFile } from '../report.js';
import { painter } from '../screen.js';

export const command: Command = {
  name: 'fmt',
  summary: 'Lay out notes in the one agreed way',
  details: [
    'Only white space changes: every comment stays, and the inputs stay the same. A declaration with errors stays as it was written, and is named.',
  ],
  arguments: [
    {
      name: '[files...]',
      summary: 'notes, folders of notes, or patterns; the working folder unless given',
      completes: 'notes',
    },
  ],
  options: [
    { flags: '--check', summary: 'write nothing; name the notes that would change (exit code 1)' },
    { flags: '--diff', summary: 'write nothing; show what would change (exit code 1)' },
    { flags: '--stdin', summary: 'read a note from standard input, print it laid out' },
    SIZE_OPTION,
  ],
  examples: [
    { line: 'tiptoe fmt', does: 'lays out every note in this folder and below' },
    { line: 'tiptoe fmt --check notes', does: 'tells whether all notes of a folder are laid out' },
    { line: 'tiptoe fmt --diff barrier.tiptoe', does: 'shows what would change in one note' },
    { line: 'tiptoe fmt --stdin < barrier.tiptoe', does: 'prints a note laid out' },
  ],
  run,
};

/** How the notes came out; the exit code is made of it. */
interface Tally {
  changed: number;
  same: number;
  broken: number;
  troubles: number;
}

async function run({ args, options }: Call): Promise<ExitCode> {
  const tally: Tally = { changed: 0, same: 0, broken: 0, troubles: 0 };
  const output = openOutput();
  const mode = options.flag('diff') ? 'diff' : options.flag('check') ? 'check' : 'write';
  if (options.flag('stdin')) {
    if (args.length > 0) throw new Trouble('--stdin', 'no file can be named beside it');
    await one(
      'stdin.tiptoe',
      readStdin(options.maxSize),
      mode === 'write' ? 'print' : mode,
      output,
      tally,
    );
    return exitCode(mode === 'write', tally);
  }
  const found = await findNotes(args);
  for (const { path, reason } of found.problems) {
    reportFile(path, reason);
    tally.troubles++;
  }
  const files = notePaths(found.files);
  const progress = new Progress('laying out notes');
  for (const [k, path] of files.entries()) {
    progress.at(k, files.length);
    await one(path, readText(path, options.maxSize), mode, output, tally);
  }
  progress.end();
  if (mode !== 'diff') await output.write(summary(tally, mode === 'check'));
  return exitCode(mode === 'write', tally);
}

type Mode = 'write' | 'check' | 'diff' | 'print';

async function one(
  path: string,
  read: ReadResult,
  mode: Mode,
  output: Output,
  tally: Tally,
): Promise<void> {
  if ('reason' in read) {
    reportFile(path, read.reason);
    tally.troubles++;
    return;
  }
  const tree = parse(read.text);
  if (reportBroken(path, tree)) tally.broken++;
  const after = format(tree);
  if (mode === 'print') {
    await output.write((read.bom ? '\ufeff' : '') + after);
    return;
  }
  if (after === read.text) {
    tally.same++;
    return;
  }
  tally.changed++;
  if (mode === 'check') await output.write(`${path} would change\n`);
  else if (mode === 'diff') {
    const { paintDiff, unifiedDiff } = await import('../unified.js');
    await output.write(paintDiff(unifiedDiff(path, read.text, after), painter(1)));
  } else if (write(path, after, read.bom)) await output.write(`${path} laid out\n`);
  else {
    tally.changed--;
    tally.troubles++;
  }
}

function write(path: string, text: string, bom: boolean): boolean {
  try {
    writeFileSafe(path, text, { replace: true, bom });
    return true;
  } catch (error) {
    reportFile(path, `it cannot be written: ${systemReason(error)}`);
    return false;
  }
}

/** Names the first declaration with errors, and how many more there are. */
function reportBroken(path: string, tree: Tree): boolean {
  const broken = tree.units.filter(({ unit }) => unit.problems.length > 0);
  const [first] = broken;
  if (first === undefined) return false;
  const at = first.start + (first.unit.problems[0]?.start ?? 0);
  const { line, column } = new LineIndex(tree.text).positionAt(at);
  const many = broken.length === 1 ? 'a declaration' : `${broken.length} declarations`;
  const reason = `${many} with errors left as written`;
  report(troubleLine(`${path}:${line}:${column}`, reason, 'tiptoe check shows the errors.'));
  return true;
}

function summary({ changed, same, broken }: Tally, check: boolean): string {
  const done = check ? 'would change' : 'laid out';
  if (changed + same === 0) return '';
  const parts = [`${changed} ${done}`, `${same} laid out already`];
  if (broken > 0) parts.push(`${broken} with errors`);
  return `${parts.join(', ')}.\n`;
}

function exitCode(writes: boolean, { changed, broken, troubles }: Tally): ExitCode {
  if (troubles > 0) return EXIT.trouble;
  return broken > 0 || (!writes && changed > 0) ? EXIT.findings : EXIT.fine;
}
