import { timeFormatter } from '../../timeline/clock.js';
import {
  type RouteTable,
  type TableShape,
  columnsOf,
  inputCells,
  itemText,
} from '../../timeline/table.js';
import { labeller } from '../../timeline/timecode.js';
import type { Part, RunCursor } from '../../timeline/types.js';
import type { Held, Source } from '../../model/steps.js';
import { Counter, Piece, TimeCounter } from './digits.js';
import { PART, type TableFormat, type TableJob } from './format.js';

/** How cells stand beside and under one another. */
interface Delimiters {
  readonly between: string;
  readonly end: string;
  readonly cell: (text: string) => string;
}

/** RFC 4180 (Shafranovich, 2005), section 2: CRLF ends a record; a cell with ", a comma or a line end is quoted. */
export const csv: TableFormat = (job) =>
  delimited(job, {
    between: ',',
    end: '\r\n',
    cell: (text) => (/[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text),
  });

/** IANA text/tab-separated-values (Lindner, 1993): a cell holds no tab and no line end, and nothing is quoted. */
export const tsv: TableFormat = (job) =>
  delimited(job, { between: '\t', end: '\n', cell: (text) => text.replace(/[\t\r\n]+/g, ' ') });

function* delimited(job: TableJob, form: Delimiters): Generator<Uint8Array, void> {
  const header = columnsOf(job.game, job.shape).map(form.cell).join(form.between) + form.end;
  yield Buffer.from(header);
  let before = 0;
  for (const table of job.routes) {
    const writer = new RowWriter(table, job.shape, form);
    for (let part = writer.part(); part.length > 0; part = writer.part()) {
      yield part;
      job.progress(before + writer.done);
    }
    before += writer.done;
  }
}

/** Sources whose tails are remembered; a route with more items than that makes some of them again. */
const MOST_TAILS = 20_000;

/** What stands behind the time in every row of a stretch; stretches of one source share theirs. */
interface Tail {
  readonly held: Held;
  readonly pause: boolean;
  readonly part: Part;
  readonly runs: boolean;
  readonly bytes: Piece;
}

/**
 * Writes rows as bytes into one buffer, again and again. Between two rows of a stretch only tick,
 * frame and time change, and those count up; the rest is copied.
 */
class RowWriter {
  done = 0;
  private readonly cursor: RunCursor;
  private readonly front: Piece;
  private readonly separator: number;
  private readonly tails = new Map<Source | undefined, Tail[]>();
  private readonly buffer: Uint8Array;
  private readonly view: DataView;
  private readonly room: number;
  private readonly tick = new Counter();
  private readonly frame = new Counter();
  private readonly time: TimeCounter | undefined;
  private readonly timeText: (tick: number) => string;
  private readonly label: ((tick: number) => string) | undefined;
  private tail: Tail = { held: 0, pause: false, part: 'pace', runs: false, bytes: Piece.of('') };
  /** The tick that `tick` and `time` stand at, and the frame that `frame` does. */
  private at = -1;
  private atFrame = -1;
  /** Rows of the stretch that are still to be written. */
  private left = 0;

  constructor(
    private readonly table: RouteTable,
    private readonly shape: TableShape,
    private readonly form: Delimiters,
  ) {
    const { timeline, from, to, name } = table;
    const { clock } = timeline.game;
    this.cursor = timeline.cursor(from, to);
    this.front = Piece.of(form.cell(name) + form.between);
    this.separator = form.between.charCodeAt(0);
    this.time = TimeCounter.suits(clock) ? new TimeCounter(clock) : undefined;
    this.timeText = timeFormatter(clock);
    this.label = shape.timecode ? labeller(clock) : undefined;
    // Five numbers of at most 16 digits, a time and a label, with room to spare.
    this.room = this.front.length + 200;
    this.buffer = new Uint8Array(PART + this.room);
    this.view = new DataView(this.buffer.buffer);
  }

  /** The next rows, about as many as fill the buffer; nothing at the end. */
  part(): Uint8Array {
    let end = 0;
    while (end < PART) {
      if (this.left === 0 && !this.nextStretch()) break;
      const { bytes } = this.tail;
      if (end + this.room + bytes.length <= this.buffer.length) end = this.rows(end, bytes);
      else if (end > 0) break;
      else {
        // A row longer than the buffer is rare enough to have one of its own.
        this.left--;
        const row = new Uint8Array(this.room + bytes.length);
        return row.subarray(0, this.row(new DataView(row.buffer), 0, bytes));
      }
    }
    return this.buffer.subarray(0, end);
  }

  private nextStretch(): boolean {
    const { cursor, shape } = this;
    if (!cursor.next()) return false;
    this.left = shape.runs ? 1 : cursor.ticks;
    this.tail = this.tailOf(cursor);
    const { tick, frame } = cursor;
    if (this.at !== tick) {
      this.tick.set(tick);
      this.time?.set(tick);
      this.at = tick;
    }
    if (frame >= 0 && this.atFrame !== frame) {
      this.frame.set(frame);
      this.atFrame = frame;
    }
    return true;
  }

  /** As many rows of the stretch as the buffer has room for. */
  private rows(start: number, tail: Piece): number {
    const { buffer, view } = this;
    const most = buffer.length - this.room - tail.length;
    let end = start;
    let left = this.left;
    do {
      end = this.row(view, end, tail);
      left--;
    } while (left > 0 && end <= most);
    this.left = left;
    return end;
  }

  private row(into: DataView, start: number, tail: Piece): number {
    const { front, separator, cursor, tick, frame, time, label } = this;
    const runs = cursor.frame >= 0;
    let at = tick.write(into, front.write(into, start));
    into.setUint8(at++, separator);
    if (this.shape.runs) {
      at = this.text(into, at, String(cursor.ticks));
      into.setUint8(at++, separator);
    }
    if (runs) at = frame.write(into, at);
    into.setUint8(at++, separator);
    if (this.shape.runs) {
      at = this.text(into, at, runs ? String(cursor.ticks) : '0');
      into.setUint8(at++, separator);
    }
    at = time === undefined ? this.text(into, at, this.timeText(this.at)) : time.write(into, at);
    if (label !== undefined) {
      into.setUint8(at++, separator);
      at = this.text(into, at, label(this.at));
    }
    this.step(runs);
    return tail.write(into, at);
  }

  /** Counts up to the next row; stretches are found at their own beginning. */
  private step(runs: boolean): void {
    if (this.shape.runs) {
      this.done += this.cursor.ticks;
      return;
    }
    this.done++;
    this.at++;
    this.tick.next();
    this.time?.next();
    if (!runs) return;
    this.atFrame++;
    this.frame.next();
  }

  private text(into: DataView, at: number, text: string): number {
    for (let i = 0; i < text.length; i++) into.setUint8(at + i, text.charCodeAt(i));
    return at + text.length;
  }

  private tailOf({ held, pause, part, frame, source }: RunCursor): Tail {
    const runs = frame >= 0;
    let known = this.tails.get(source);
    if (known === undefined) {
      if (this.tails.size >= MOST_TAILS) this.tails.clear();
      this.tails.set(source, (known = []));
    }
    for (const tail of known) {
      if (tail.held === held && tail.pause === pause && tail.part === part && tail.runs === runs) {
        return tail;
      }
    }
    const { table, form } = this;
    const line = source === undefined ? '' : String(table.line(source));
    const inputs = inputCells(table.timeline.game, held, pause);
    const cells = ['', runs ? '1' : '0', ...inputs, itemText(part, source), line];
    const bytes = Piece.of(cells.map(form.cell).join(form.between) + form.end);
    const tail = { held, pause, part, runs, bytes };
    known.push(tail);
    return tail;
  }
}
