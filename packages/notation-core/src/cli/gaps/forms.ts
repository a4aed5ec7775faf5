import type { Game } from '../../model/game.js';
import type { Gap, Gaps, SpotGaps } from '../../positions/gaps.js';
import type { MenuOptions } from '../../positions/menu.js';
import { SHEET_COLUMNS } from '../../positions/sheet.js';
import type { Tried } from '../../positions/tried.js';
import type { Paint } from '../screen.js';
import { wrap } from '../wrap.js';

export interface GapsJob {
  readonly gaps: Gaps;
  readonly game: Game;
  readonly menu: MenuOptions;
  /** The most gaps to list. */
  readonly limit: number;
  readonly paint: Paint;
}

/** A form of the list, in parts made as they are asked for. */
export type GapsForm = (job: GapsJob) => Iterable<string>;

const RANKING =
  'Ranked by what a success would save: the ticks by which the nominal route would be shorter if the move led from its spot straight to the end of the route. That is the most that it can save, not what to expect of it. Spots off every route follow, then moves that could save nothing.';

function* first({ gaps, limit }: GapsJob): Generator<Gap, void> {
  let left = limit;
  if (left <= 0) return;
  for (const gap of gaps.ranked()) {
    yield gap;
    if (--left <= 0) return;
  }
}

/** The sheet for the console. Spots without `@`: spreadsheets take a leading one for a formula. */
export function* csv(job: GapsJob): Generator<string, void> {
  let part = csvLine(SHEET_COLUMNS);
  for (const { spot, move } of first(job)) {
    part += csvLine([spot, move.items, '', '', '']);
    if (part.length < 65536) continue;
    yield part;
    part = '';
  }
  yield part;
}

/** One record as RFC 4180 has it: CRLF at its end, quotes around a cell that needs them. */
function csvLine(cells: readonly string[]): string {
  return `${cells.map(csvCell).join(',')}\r\n`;
}

function csvCell(text: string): string {
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** One object, as schema/gaps.schema.json describes it; a gap a line. */
export function* json(job: GapsJob): Generator<string, void> {
  const { gaps, game, menu } = job;
  const head = {
    game: game.title,
    menu: { frames: menu.frames, buttons: Array.from(menu.buttons ?? ''), exit: menu.exit ?? null },
    total: totalOf(gaps),
    spots: gaps.spots.map(({ spot, paused, counts, on }) => ({
      spot: `@${spot}`,
      paused,
      route: on?.route ?? null,
      ticksLeft: on?.ticks ?? null,
      moves: counts,
    })),
  };
  yield `${JSON.stringify(head, null, 2).slice(0, -2)},\n  "gaps": [`;
  let rank = 0;
  for (const gap of first(job)) {
    const { spot, move, ticks, on, saves, next } = gap;
    const { items, form, exit, frames } = move;
    const row = {
      rank: ++rank,
      spot: `@${spot}`,
      items,
      form,
      exit,
      frames,
      ticks,
      route: on?.route ?? null,
      goal: on?.goal === undefined ? null : `@${on.goal}`,
      saves: saves === undefined ? null : Math.max(0, saves),
      next: next === undefined ? null : { spot: `@${next.spot}`, saves: Math.max(0, next.saves) },
    };
    yield `${rank === 1 ? '' : ','}\n    ${JSON.stringify(row)}`;
  }
  yield `${rank === 0 ? '' : '\n  '}]\n}\n`;
}

const HEAD = ['rank', 'spot', 'items', 'ticks', 'saves', 'up to', 'next claim'];
const NUMBERS = [true, false, false, true, true, false, false];

function cellsOf(gap: Gap, rank: number): string[] {
  const { spot, move, ticks, on, saves, next } = gap;
  const goal = on?.goal === undefined ? 'the end' : `@${on.goal}`;
  return [
    String(rank),
    `@${spot}`,
    move.items,
    String(ticks),
    saves === undefined ? '-' : String(Math.max(0, saves)),
    on === undefined ? 'off every route' : `${goal} of ${on.route}`,
    next === undefined ? '' : `@${next.spot} ${Math.max(0, next.saves)}`,
  ];
}

/** For reading in the terminal. */
export function* table(job: GapsJob): Generator<string, void> {
  const { gaps, paint } = job;
  yield summaries(gaps).map((line) => `${line}\n`).join(''); // prettier-ignore
  const rows = [...first(job)].map((gap, i) => cellsOf(gap, i + 1));
  if (rows.length > 0) {
    const widths = HEAD.map((name, c) =>
      rows.reduce((most, row) => Math.max(most, row[c]?.length ?? 0), name.length),
    );
    const line = (cells: readonly string[]): string =>
      cells
        .map((cell, c) =>
          NUMBERS[c] === true ? cell.padStart(widths[c] ?? 0) : cell.padEnd(widths[c] ?? 0),
        ) // prettier-ignore
        .join('  ')
        .trimEnd();
    yield `\n${paint('bold', line(HEAD))}\n`;
    for (const row of rows) yield `${line(row)}\n`;
    yield `\n${wrap(RANKING, 80)}\n`;
  }
  yield `${closing(rows.length, totalOf(gaps))}\n`;
}

/** Markdown with a table as GitHub Flavored Markdown 0.29 has it (section 4.10). */
export function* markdown(job: GapsJob): Generator<string, void> {
  const { gaps } = job;
  yield `${summaries(gaps).map((line) => `- ${escaped(line)}\n`).join('')}\n`; // prettier-ignore
  const row = (cells: readonly string[]): string => `| ${cells.join(' | ')} |\n`;
  yield row(HEAD) + row(NUMBERS.map((number) => (number ? '--:' : ':--')));
  let rank = 0;
  for (const gap of first(job)) yield row(cellsOf(gap, ++rank).map(escaped));
  yield `\n${RANKING}\n\n${closing(rank, totalOf(gaps))}\n`;
}

/** What could mean something in Markdown gets a backslash (CommonMark 0.31.2, section 2.4). */
function escaped(cell: string): string {
  return cell.replace(/[\\`*_{}[\]<>#|~&!]/g, '\\$&');
}

function totalOf({ spots }: Gaps): number {
  let total = 0;
  for (const { counts } of spots) {
    for (const { of, tried, known } of counts) total += of - tried - known;
  }
  return total;
}

function closing(shown: number, total: number): string {
  if (total === 0) return 'Nothing of the menu is left to try.';
  const gaps = `${total} ${total === 1 ? 'gap' : 'gaps'}`;
  return shown < total ? `${shown} of ${gaps}; --limit shows more.` : `${gaps}.`;
}

/** Spots that are summed up, before the rest is only counted. */
const MOST_SPOTS = 60;

function summaries({ spots }: Gaps): string[] {
  const lines = spots.slice(0, MOST_SPOTS).map(summary);
  const more = spots.length - lines.length;
  if (more > 0) lines.push(`... and ${more} more ${more === 1 ? 'spot' : 'spots'}`);
  return lines;
}

/** `5 of 24 one-frame moves tried from @reed; 0 of 32 zero-frame`. */
function summary({ spot, paused, counts, on }: SpotGaps): string {
  // A move of one frame is what most are after.
  const sorted = [...counts].sort((a, b) => Number(b.frames === 1) - Number(a.frames === 1));
  const [head, ...rest] = sorted;
  const place = `@${spot}${paused ? ', inside a pause' : ''}`;
  if (head === undefined) return `no moves from ${place}`;
  const parts = [
    `${share(head)} ${framesWord(head.frames)} moves tried from ${place}`,
    ...rest.map((each) => `${share(each)} ${framesWord(each.frames)}`),
  ];
  const known = counts.reduce((sum, each) => sum + each.known, 0);
  if (known > 0) parts.push(`open ground answers for ${known} more`);
  if (on !== undefined) {
    parts.push(
      on.ticks > 0
        ? `${on.ticks} ${on.ticks === 1 ? 'tick' : 'ticks'} of ${on.route} left`
        : `the end of ${on.route}`,
    );
  }
  return parts.join('; ');
}

function share({ tried, of }: Tried): string {
  return `${tried} of ${of}`;
}

const WORDS = ['zero', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'];

function framesWord(frames: number): string {
  return `${WORDS[frames] ?? frames}-frame`;
}
