import type { Call } from '../command.js';
import { EXIT, type ExitCode, Trouble } from '../exit.js';
import { findNotes } from '../files.js';
import { type ReadText, readStdin } from '../io.js';
import { notePaths } from '../load.js';
import type { Options } from '../options.js';
import { print } from '../output.js';
import { reportFile } from '../report.js';
import { type Checked, count } from '../show/shown.js';
import { type Fixed, fixNotes, writeNotes } from './fix.js';
import { type CheckedNotes as Checks, type Request, checkNotes } from './notes.js';
import { show } from './show.js';
import type { Format, Outcome } from './outcome.js';

/** `tiptoe check`, once or until Ctrl-C. */
export async function runCheck(call: Call): Promise<ExitCode> {
  const { options } = call;
  refuseTogether(call);
  if (options.flag('watch')) {
    const { watch } = await import('./watch.js');
    return watch(() => once(call), call.args);
  }
  return (await once(call)).code;
}

async function once({ args, options }: Call): Promise<Outcome> {
  const instead = new Map<string, ReadText>();
  const unchecked: { path: string; reason: string }[] = [];
  let files: readonly string[];
  if (options.flag('stdin')) {
    const [path = ''] = notePaths([options.text('stdinPath') ?? 'stdin.tiptoe']);
    const read = readStdin(options.maxSize);
    files = 'text' in read ? [path] : [];
    if ('text' in read) instead.set(path, read);
    else unchecked.push({ path: 'standard input', reason: read.reason });
  } else {
    const found = await findNotes(args);
    files = notePaths(found.files);
    unchecked.push(...found.problems);
  }
  const request = {
    files,
    instead,
    unchecked,
    maxSize: options.maxSize,
    config: options.text('config'),
  };
  const { checked, texts } = checkAndMend(request, options);
  for (const { path, reason } of checked.unchecked) reportFile(path, reason);
  const form = (options.text('format') ?? 'text') as Format;
  const mends = options.flag('fix') || options.flag('fixTiming');
  if (options.flag('stdin') && mends) {
    // The mended text is the result; what is left to say goes beside it.
    const [path = ''] = files;
    const text = texts.get(path) ?? instead.get(path);
    if (text !== undefined) await print((text.bom ? '\ufeff' : '') + text.text, options.output);
    await show(checked, form, { ...options.output, file: undefined, stream: 2 });
  } else await show(checked, form, options.output);
  return { code: exitCode(checked, options.whole('maxWarnings')), read: checked.read };
}

/** Checks; where asked, mends first, and writes what changed unless it stands for a file. */
function checkAndMend(
  request: Request,
  options: Options,
): { checked: Checks; texts: Fixed['texts'] } {
  const first = checkNotes(request);
  if (!options.flag('fix') && !options.flag('fixTiming'))
    return { checked: first, texts: new Map() };
  const level = options.flag('fixTiming') ? 'changes-timing' : 'safe';
  const { checked, mended, texts } = fixNotes(request, first, level);
  const failed = request.instead.size > 0 ? [] : writeNotes(texts);
  return { checked: { ...checked, mended, unchecked: [...checked.unchecked, ...failed] }, texts };
}

function exitCode(checked: Checked, maxWarnings = Infinity): ExitCode {
  if (checked.unchecked.length > 0) return EXIT.trouble;
  const { errors, warnings } = count(checked.findings);
  return errors > 0 || warnings > maxWarnings ? EXIT.findings : EXIT.fine;
}

/** Options that say nothing sensible together. */
function refuseTogether({ args, options }: Call): void {
  const stdin = options.flag('stdin');
  if (stdin && args.length > 0) {
    throw new Trouble(
      '--stdin',
      'no file can be named beside it',
      'Use --stdin-path for the name.',
    );
  }
  if (!stdin && options.text('stdinPath') !== undefined) {
    throw new Trouble('--stdin-path', 'it needs --stdin', 'Add --stdin.');
  }
  if (options.flag('watch')) {
    const other = ['stdin', 'output'].find((name) => options.values[name] !== undefined);
    if (other !== undefined) throw new Trouble('--watch', `it does not go with --${other}`);
  }
}
