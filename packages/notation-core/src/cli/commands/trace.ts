import { type Choices } from '../../model/resolve.js';
import type { Scope } from '../../model/scope.js';
import type { PositionCode } from '../../positions/problems.js';
import type { Settling } from '../../positions/settling.js';
import { type RouteTrace, type TraceStep, traceRoute } from '../../positions/trace.js';
import { LineIndex } from '../../text/lines.js';
import { type Call, type Command, OUTPUT_OPTIONS, SIZE_OPTION } from '../command.js';
import { EXIT, type ExitCode, Trouble } from '../exit.js';
import { openNote } from '../note.js';
import { print } from '../output.js';
import { choicesOf, ROUTE_OPTIONS, routesOf } from '../routes.js';
import { type Paint, painter, plain } from '../screen.js';
import { soundRoutes } from '../sound.js';

export const command: Command = {
  name: 'trace',
  summary: 'Follow where the character can be, item by item, by the log',
  details: [
    'Each item is shown with the spots at which the character can be behind it, and with the rows of the log that prove it. Where the log is silent the place is unknown until the next claim.',
    'A repeat from several spots shows the cycle that all of them end in, and after how many repetitions.',
    'A route with errors is not followed: its findings are printed instead, and the exit code is 1. What the log says against a route (a wrong landing, an until that never arrives) is no such error: it is what is shown.',
  ],
  arguments: [{ name: '<file>', summary: 'the note', completes: 'notes' }],
  options: [
    ...ROUTE_OPTIONS,
    {
      flags: '--format <form>',
      summary: 'how to show it',
      choices: ['table', 'json', 'md'],
      preset: 'table',
    },
    ...OUTPUT_OPTIONS,
    SIZE_OPTION,
  ],
  examples: [
    { line: 'tiptoe trace barrier.tiptoe', does: 'follows every route of the note' },
    {
      line: 'tiptoe trace barrier.tiptoe --choose finish=fast --format md',
      does: 'follows the fast way, as a Markdown table',
    },
  ],
  run,
};

async function run({ args, options }: Call): Promise<ExitCode> {
  const [path = ''] = args;
  const { program, file, scope } = openNote(path, options);
  const named = options.text('route');
  const choices: Choices = choicesOf(options.list('choose'), routesOf(scope, named), scope);
  const wanted = { what: 'trace', despite: SHOWN };
  const { routes, refusals } = await soundRoutes(program, scope, options, wanted);
  if (routes.length === 0) {
    if (refusals > 0) return EXIT.findings;
    throw new Trouble(
      file.path,
      'it declares no route',
      'Write one: route name from @a to @b { U }',
    );
  }
  const traces = routes.map(({ declaration, unit }) =>
    traceRoute(declaration, unit, scope, choices),
  );
  const form = options.text('format') ?? 'table';
  const paint = options.text('output') === undefined ? painter(1) : plain;
  const text =
    form === 'json' ? json(traces, scope) : form === 'md' ? markdown(traces, scope) : table(traces, scope, paint); // prettier-ignore
  await print(text, options.output);
  return refusals > 0 ? EXIT.findings : EXIT.fine;
}

/** Errors that say no more than what is shown. */
const SHOWN: ReadonlySet<string> = new Set<PositionCode>([
  'wrong-landing',
  'never-arrives',
  'off-ground',
  'range-differs',
]);

/** Lines of units, counted once a file. */
function liner(scope: Scope): (step: TraceStep) => number {
  const indexes = new Map<string, LineIndex>();
  const starts = new Map(
    scope.files.flatMap((file) =>
      file.tree.units.map(({ unit, start }) => [unit, { file, start }] as const),
    ),
  );
  return (step) => {
    const place = starts.get(step.unit);
    const item = step.items[0];
    if (place === undefined || item === undefined) return 0;
    const { path, tree } = place.file;
    const index = indexes.get(path) ?? new LineIndex(tree.text);
    indexes.set(path, index);
    return index.lineAt(place.start + item.start);
  };
}

function written(step: TraceStep): string {
  const first = step.items[0];
  const last = step.items[step.items.length - 1];
  return step.unit.text.slice(first?.start, last?.end).replace(/\s+/g, ' ');
}

function spotText(name: string): string {
  return name.startsWith('(') ? name : `@${name}`;
}

function json(traces: readonly RouteTrace[], scope: Scope): string {
  const line = liner(scope);
  const routes = traces.map(({ name, starts, steps }) => ({
    name,
    followed: starts !== undefined,
    starts: (starts ?? []).map(spotText),
    steps: steps.map((step) => ({
      item: written(step),
      line: line(step),
      spots: step.spots.map(spotText),
      unknown: step.unknown,
      within: step.within,
      rows: step.proofs.map((proof) => ({
        from: spotText(proof.from),
        to: spotText(proof.to),
        sightings: proof.sightings,
      })),
      ...(step.until === undefined ? {} : { until: untilJson(step.until) }),
      ...(step.settles === undefined ? {} : { settles: settlesJson(step.settles) }),
    })),
  }));
  return `${JSON.stringify({ routes }, null, 2)}\n`;
}

function untilJson(until: NonNullable<TraceStep['until']>) {
  return {
    spot: spotText(until.spot),
    arrived: until.arrived.map(({ from, times }) => ({ from: spotText(from), times })),
    never: until.never.map(({ from, tail, cycle }) => ({
      from: from.map(spotText),
      tail,
      cycle: cycle.map(spotText),
    })),
  };
}

function settlesJson({ cycles, after, starts, lost }: Settling) {
  return {
    cycles: cycles.map((cycle) => cycle.map(spotText)),
    after,
    starts,
    lost: lost.map(spotText),
  };
}

const MOST = 8;

function placesText(step: TraceStep): string {
  const names = step.spots.map(spotText);
  const shown =
    names.length > MOST ? [...names.slice(0, MOST), `${names.length - MOST} more`] : names;
  if (step.unknown) shown.push('unknown');
  if (step.within) shown.push('within a row');
  return shown.join(', ');
}

function proofText(step: TraceStep): string {
  const count = step.proofs.length;
  if (count === 0) return '';
  const least = Math.min(...step.proofs.map((proof) => proof.sightings));
  const rows = count === 1 ? '1 row' : `${count} rows`;
  return count === 1 ? `${rows}, seen ${least}x` : `${rows}, each seen ${least}x or more`;
}

function untilText(step: TraceStep): string[] {
  const { until } = step;
  if (until === undefined) return [];
  const times = until.arrived.map((each) => each.times);
  const lines: string[] = [];
  if (times.length > 0) {
    const least = Math.min(...times);
    const most = Math.max(...times);
    const count = least === most ? String(least) : `${least} to ${most}`;
    const starts = times.length === 1 ? '1 place' : `${times.length} places`;
    lines.push(`from ${starts} behind the minimum: ${spotText(until.spot)} after ${count} in all`);
  }
  for (const { from, tail, cycle } of until.never) {
    const behind = tail === 0 ? '' : `after ${tail} more `;
    const round = cycle.length === 1 ? `it stays at ${roundText(cycle)}` : `it goes round ${roundText(cycle)}`; // prettier-ignore
    lines.push(`never from ${shortList(from)}: ${behind}${round}`);
  }
  return lines;
}

/** `@reed > @rush > @sedge`; long cycles by their beginning and their length. */
function roundText(cycle: readonly string[]): string {
  const [first = ''] = cycle;
  if (cycle.length === 1) return spotText(first);
  if (cycle.length <= MOST) return cycle.map(spotText).join(' > ');
  const shown = cycle.slice(0, MOST).map(spotText).join(' > ');
  return `${shown} > … (${cycle.length} spots round)`;
}

function shortList(names: readonly string[]): string {
  const shown = names.slice(0, MOST).map(spotText).join(', ');
  return names.length > MOST ? `${shown} and ${names.length - MOST} more` : shown;
}

/** `settles: @reed > @rush > @reed, every one of 17 starts within 4`. */
function settlesText(step: TraceStep): string[] {
  const { settles } = step;
  if (settles === undefined) return [];
  const { cycles, after, starts, lost } = settles;
  if (cycles.length === 0) return [];
  const shown = cycles.slice(0, 3).map(roundText);
  if (cycles.length > 3) shown.push(`${cycles.length - 3} more cycles`);
  const within = after === 0 ? 'from the first on' : `within ${after}`;
  const who =
    lost.length === 0
      ? `every one of ${starts} starts ${within}`
      : `${starts - lost.length} of ${starts} starts ${within}, not known from ${shortList(lost)}`;
  return [`settles: ${shown.join('; ')}, ${who}`];
}

function table(traces: readonly RouteTrace[], scope: Scope, paint: Paint): string {
  const line = liner(scope);
  const blocks = traces.map((trace) => {
    const head = paint('bold', trace.name);
    if (trace.starts === undefined) return `${head}\nnot followed: the route has no from\n`;
    const starts = trace.starts.map(spotText);
    const from =
      starts.length <= MOST ? starts.join(', ') : `${starts.length} spots: ${starts.slice(0, MOST).join(', ')}, …`; // prettier-ignore
    const rows = trace.steps.map((step) => ({
      cells: [String(line(step)), written(step), placesText(step), proofText(step)],
      step,
    }));
    const heads = ['line', 'item', 'can be at', 'proved by'];
    const widths = heads.map((name, i) =>
      Math.min(44, Math.max(name.length, ...rows.map((row) => row.cells[i]?.length ?? 0))),
    );
    const lay = (cells: readonly string[]): string =>
      cells
        .map((cell, i) => (i === 0 ? cell.padStart(widths[i] ?? 0) : cell.padEnd(widths[i] ?? 0)))
        .join('  ')
        .trimEnd();
    const lines = [head, `from ${from === '' ? 'nowhere that the log knows' : from}`, '', paint('dim', lay(heads))]; // prettier-ignore
    for (const { cells, step } of rows) {
      const text = lay(cells);
      lines.push(step.unknown ? paint('yellow', text) : text);
      const indent = ' '.repeat((widths[0] ?? 0) + 4);
      for (const each of [...untilText(step), ...settlesText(step)])
        lines.push(paint('dim', `${indent}${each}`));
    }
    return `${lines.join('\n')}\n`;
  });
  return blocks.join('\n');
}

function markdown(traces: readonly RouteTrace[], scope: Scope): string {
  const line = liner(scope);
  const cell = (text: string): string => text.replace(/[\\`*_{}[\]<>#|~&!]/g, '\\$&');
  const blocks = traces.map((trace) => {
    if (trace.starts === undefined) {
      return `## ${cell(trace.name)}\n\nNot followed: the route has no from.\n`;
    }
    const rows = trace.steps.map((step) => {
      const places = [placesText(step), ...untilText(step), ...settlesText(step)];
      const cells = [String(line(step)), written(step)].map(cell);
      return [...cells, places.map(cell).join('<br>'), cell(proofText(step))];
    });
    const heads = [
      ['line', 'item', 'can be at', 'proved by'],
      ['--:', ':--', ':--', ':--'],
    ];
    const lines = [...heads, ...rows].map((cells) => `| ${cells.join(' | ')} |`);
    return `## ${cell(trace.name)}\n\n${lines.join('\n')}\n`;
  });
  return blocks.join('\n');
}
