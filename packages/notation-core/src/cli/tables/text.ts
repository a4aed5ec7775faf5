import { tickTime } from '../../timeline/clock.js';
import { type RouteTable, type TableRow, holds, rowsOf } from '../../timeline/table.js';
import { labeller } from '../../timeline/timecode.js';
import { timeFormatter } from '../../timeline/clock.js';
import { toDecimal } from '../../text/fraction.js';
import { type TableFormat, type TableJob, inParts } from './format.js';

/** Rows that are looked at for the widths of their columns; a later one may stand out. */
const LOOK_AHEAD = 1000;
const GAP = '  ';

/**
 * For reading in the terminal: what is held from when for how long, with the pauses set apart by a
 * rule down their side and the count of frames standing still.
 */
export const text: TableFormat = (job) => inParts(lines(job));

function* lines(job: TableJob): Generator<string, void> {
  let before = 0;
  for (const [k, table] of job.routes.entries()) {
    if (k > 0) yield '\n';
    yield* routeLines(table, job, before);
    before += table.to - table.from;
  }
}

function* routeLines(table: RouteTable, job: TableJob, before: number): Generator<string, void> {
  const { paint, shape } = job;
  const title = table.title === '' ? '' : `${GAP}${table.title}`;
  yield `${paint('bold', table.name)}${title}\n${summary(table)}\n\n`;

  const cells = cellsOf(table, job);
  const rows = rowsOf(table, shape);
  const first: Line[] = [];
  for (let next = rows.next(); next.done !== true; next = rows.next()) {
    first.push(cells(next.value));
    if (first.length >= LOOK_AHEAD) break;
  }
  const names = ['tick', 'time', ...(shape.timecode ? ['timecode'] : [])];
  const heads = [...names, 'held', 'for', 'frame', 'item', 'line'];
  const right = new Set(['tick', 'time', 'frame', 'line']);
  const widths = heads.map((head, i) =>
    first.reduce((most, line) => Math.max(most, line.cells[i]?.length ?? 0), head.length),
  );
  const laidOut = (line: readonly string[]) =>
    line
      .map((cell, i) => {
        const width = widths[i] ?? 0;
        return right.has(heads[i] ?? '') ? cell.padStart(width) : cell.padEnd(width);
      })
      .join(GAP)
      .trimEnd();

  yield `${paint('dim', `  ${laidOut(heads)}`)}\n`;
  const written = (line: Line) => {
    job.progress(before + line.end - table.from);
    const row = laidOut(line.cells);
    return line.paused ? `${paint('cyan', `: ${row}`)}\n` : `  ${row}\n`;
  };
  for (const line of first) yield written(line);
  for (const row of rows) yield written(cells(row));
}

interface Line {
  readonly paused: boolean;
  readonly cells: readonly string[];
  /** The tick behind it. */
  readonly end: number;
}

function summary({ timeline, from, to }: RouteTable): string {
  const { game, ticks, frames } = timeline;
  const seconds = toDecimal(tickTime(ticks, game.clock), 3);
  const { num, den } = game.clock;
  const clock = den === 1n ? `${num}` : `${num}/${den}`;
  const whole = `${many(ticks, 'tick')}, ${many(frames, 'frame')}, ${seconds} s`;
  const part = from > 0 || to < ticks ? `; ticks ${from} to ${to - 1} shown` : '';
  return `${game.title}${game.title === '' ? '' : ', '}${clock} ticks a second: ${whole}${part}`;
}

function cellsOf(table: RouteTable, job: TableJob): (row: TableRow) => Line {
  const { game } = table.timeline;
  const time = timeFormatter(game.clock);
  const label = job.shape.timecode ? labeller(game.clock) : undefined;
  return (row) => {
    const { tick, ticks, frame } = row;
    const letters = game.inputs.filter((each) => holds(row.held, each)).map((each) => each.letter);
    const pause = row.pause ? [game.pause?.letter ?? ''] : [];
    const held = [letters.join(''), ...pause].filter((part) => part !== '').join(' ');
    const last = frame === undefined || ticks === 1 ? '' : `-${frame + ticks - 1}`;
    return {
      paused: frame === undefined,
      end: tick + ticks,
      cells: [
        String(tick),
        time(tick),
        ...(label === undefined ? [] : [label(tick)]),
        held === '' ? '.' : held,
        many(ticks, 'tick'),
        frame === undefined ? 'paused' : `${frame}${last}`,
        row.item,
        row.line === undefined ? '' : String(row.line),
      ],
    };
  };
}

function many(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? '' : 's'}`;
}
