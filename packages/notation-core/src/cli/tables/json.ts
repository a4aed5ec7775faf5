import type { Game } from '../../model/game.js';
import { timeFormatter, tickTime } from '../../timeline/clock.js';
import {
  type RouteTable,
  type TableRow,
  type TableShape,
  holds,
  rowsOf,
} from '../../timeline/table.js';
import { labeller } from '../../timeline/timecode.js';
import { toDecimal } from '../../text/fraction.js';
import { type TableFormat, type TableJob, inParts } from './format.js';

/** One object, as schema/frames.schema.json describes it; a row a line. */
export const json: TableFormat = (job) => inParts(whole(job));

/** A row a line, each with the name of its route. */
export const jsonl: TableFormat = (job) => inParts(lines(job));

function* whole(job: TableJob): Generator<string, void> {
  yield `{"game":${JSON.stringify(gameObject(job.game))},"routes":[`;
  let first = true;
  for (const table of job.routes) {
    const { name, title, timeline } = table;
    const { ticks, frames, game } = timeline;
    const seconds = toDecimal(tickTime(ticks, game.clock), 6);
    const head = JSON.stringify({ name, title, ticks, frames }).slice(0, -1);
    yield `${first ? '' : ','}\n${head},"seconds":${seconds},"rows":[`;
    first = false;
    let between = '\n';
    for (const row of objects(table, job)) {
      yield `${between}{${row}}`;
      between = ',\n';
    }
    yield '\n]}';
  }
  yield '\n]}\n';
}

function* lines(job: TableJob): Generator<string, void> {
  for (const table of job.routes) {
    const front = `{"route":${JSON.stringify(table.name)},`;
    for (const row of objects(table, job)) yield `${front}${row}}\n`;
  }
}

function gameObject({ title, clock, inputs, pause }: Game) {
  return {
    title,
    clock: clock.den === 1n ? String(clock.num) : `${clock.num}/${clock.den}`,
    inputs: inputs.map((input) => input.letter),
    pause: pause?.letter ?? null,
  };
}

/** What stands between the braces of each row. */
function* objects(table: RouteTable, job: TableJob): Generator<string, void> {
  const write = rowWriter(table, job.shape);
  let done = 0;
  for (const row of rowsOf(table, job.shape)) {
    yield write(row);
    done += row.ticks;
    job.progress(done);
  }
}

function rowWriter(table: RouteTable, shape: TableShape): (row: TableRow) => string {
  const { game } = table.timeline;
  const time = timeFormatter(game.clock);
  const label = shape.timecode ? labeller(game.clock) : undefined;
  return (row) => {
    const { tick, frame } = row;
    const parts = [`"tick":${tick}`];
    if (shape.runs) parts.push(`"ticks":${row.ticks}`);
    parts.push(`"frame":${frame ?? 'null'}`);
    if (shape.runs) parts.push(`"frames":${row.frames}`);
    parts.push(`"time":${time(tick)}`);
    if (label !== undefined) parts.push(`"timecode":"${label(tick)}"`);
    parts.push(`"runs":${row.frames > 0}`, `"held":{${heldMembers(game, row)}}`);
    parts.push(`"item":${JSON.stringify(row.item)}`, `"line":${row.line ?? 'null'}`);
    return parts.join(',');
  };
}

/** The inputs that are held with their values; those that are not are left out. */
function heldMembers(game: Game, { held, pause }: TableRow): string {
  const members = game.inputs
    .filter((input) => holds(held, input))
    .map(({ letter, shown }) => `${JSON.stringify(letter)}:${Number(shown)}`);
  if (pause && game.pause !== undefined) members.push(`${JSON.stringify(game.pause.letter)}:1`);
  return members.join(',');
}
