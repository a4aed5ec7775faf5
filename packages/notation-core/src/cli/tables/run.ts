import { scopeOf } from '../../model/scope.js';
import { timecodeOf } from '../../timeline/timecode.js';
import type { Call } from '../command.js';
import { EXIT, type ExitCode, Trouble } from '../exit.js';
import { similarFile } from '../files.js';
import { loadNotes } from '../load.js';
import type { Options } from '../options.js';
import { openOutput } from '../output.js';
import { Progress } from '../progress.js';
import { choicesOf, routesOf } from '../routes.js';
import { painter, plain } from '../screen.js';
import { soundRoutes } from '../sound.js';
import type { TableFormat, TableJob } from './format.js';
import { routeTable } from './routes.js';

/** `tiptoe frames`. */
export async function runFrames({ args, options }: Call): Promise<ExitCode> {
  const window = windowOf(options);
  if (options.flag('runs') && options.flag('ticks')) {
    throw new Trouble('--runs', 'it cannot stand beside --ticks', 'Leave one of them out.');
  }
  const form = options.text('format') ?? 'table';
  const { program } = loadNotes([args[0] ?? ''], { maxSize: options.maxSize });
  const [refused] = program.unreadable;
  if (refused !== undefined) throw unreadable(refused);
  const file = program.files.get(program.entries[0] ?? '');
  if (file === undefined) return EXIT.trouble;
  const scope = scopeOf(program, file);

  const choices = choicesOf(options.list('choose'), routesOf(scope, options.text('route')), scope);
  const { routes: sound, refusals } = await soundRoutes(program, scope, options, { what: 'table' });
  const tables = sound.map((route) => routeTable(route, scope, program, choices));
  if (tables.length === 0) {
    if (refusals > 0) return EXIT.findings;
    throw new Trouble(file.path, 'it declares no route', 'Write one: route name { D .10 D }');
  }
  const shape = {
    runs: options.flag('runs') || (form === 'table' && !options.flag('ticks')),
    timecode: options.flag('timecode'),
  };
  if (shape.timecode) {
    const timecode = timecodeOf(scope.game.clock);
    if ('reason' in timecode) {
      throw new Trouble('--timecode', timecode.reason, 'The column time has the seconds.');
    }
  }
  const routes = tables.map((table) => ({
    ...table,
    from: Math.min(window.from, table.timeline.ticks),
    to: Math.min(window.to, table.timeline.ticks),
  }));
  const longest = Math.max(...tables.map((table) => table.timeline.ticks));
  if (window.from > 0 && window.from >= longest) {
    const ends = `there are ${longest} ticks`;
    throw new Trouble('--from', `${ends}, so none from ${window.from} on`, 'Begin earlier.');
  }
  const paint = options.text('output') === undefined ? painter(1) : plain;
  await write(await formatOf(form), { game: scope.game, routes, shape, paint }, options);
  return refusals > 0 ? EXIT.findings : EXIT.fine;
}

function unreadable({ path, reason }: { path: string; reason: string }): Trouble {
  // The working folder has no name of its own.
  if (path === '') return new Trouble('.', 'it is a folder, not a file', 'Name one of its notes.');
  const near = reason === 'there is no such file' ? similarFile(path) : undefined;
  return new Trouble(path, reason, near === undefined ? '' : `Did you mean ${near}?`);
}

async function write(
  format: TableFormat,
  job: Omit<TableJob, 'progress'>,
  options: Options,
): Promise<void> {
  const whole = job.routes.reduce((sum, { from, to }) => sum + to - from, 0);
  const watched = new Progress('writing ticks');
  const progress = (ticks: number) => watched.at(ticks, whole);
  const output = openOutput(options.output);
  try {
    for (const part of format({ ...job, progress })) {
      const wait = output.write(part);
      if (wait) await wait;
      if (output.closed) break;
    }
    watched.end();
    await output.end();
  } catch (error) {
    watched.end();
    output.abandon();
    throw error;
  }
}

async function formatOf(form: string): Promise<TableFormat> {
  switch (form) {
    case 'csv':
      return (await import('./delimited.js')).csv;
    case 'tsv':
      return (await import('./delimited.js')).tsv;
    case 'json':
      return (await import('./json.js')).json;
    case 'jsonl':
      return (await import('./json.js')).jsonl;
    case 'md':
      return (await import('./markdown.js')).markdown;
    default:
      return (await import('./text.js')).text;
  }
}

/** `--from` and `--to`, in ticks: the window [from, to). */
function windowOf(options: Options): { from: number; to: number } {
  const from = tickOf(options, 'from') ?? 0;
  const to = tickOf(options, 'to') ?? Infinity;
  if (from < to) return { from, to };
  const reason = `from ${from} to ${to} there is no tick`;
  throw new Trouble('--to', reason, `Write --to ${from + 1} for tick ${from} alone.`);
}

function tickOf(options: Options, name: string): number | undefined {
  const written = options.text(name);
  if (written === undefined) return undefined;
  const tick = /^[0-9]{1,16}$/.test(written) ? Number(written) : NaN;
  if (Number.isSafeInteger(tick)) return tick;
  const most = Number.MAX_SAFE_INTEGER;
  throw new Trouble(`--${name}`, `"${written}" is no tick: they are whole numbers from 0 to ${most}`, `Write --${name} 60, for example.`); // prettier-ignore
}
