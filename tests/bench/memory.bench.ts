import { parse } from '@core/syntax/parse.js';
import { random } from './notes.js';
import type { Bench } from './rows.js';

declare const gc: () => void;

const ROWS = 483_840;
const SPOTS = ['reed', 'rush', 'tern', 'mud', 'snag', 'sedge', 'past', 'heron'];

interface LogRow {
  readonly from: string;
  readonly items: string;
  readonly to: string;
  readonly count: number;
}

/** The rows of a log over a field of positions: short names, one or two items. */
function* rows(): Generator<LogRow> {
  const next = random(3);
  const below = (n: number): number => Math.floor(next() * n);
  for (let k = 0; k < ROWS; k++) {
    const items = below(2) === 0 ? `U${below(7)} [D1]` : `DR${below(9)}`;
    yield {
      from: `${SPOTS[below(8)] ?? ''}${below(60)}`,
      items,
      to: `${SPOTS[below(8)] ?? ''}${below(60)}`,
      count: 1 + below(40),
    };
  }
}

function asNote(): string {
  const lines = ['seen {'];
  for (const { from, items, to, count } of rows()) {
    lines.push(`  @${from} : ${items} -> @${to} x${count}`);
  }
  lines.push('}');
  return flat(lines.join('\n'));
}

/** A string in one piece, as a file that was read gives it. */
function flat(text: string): string {
  return Buffer.from(text).toString();
}

/** Megabytes that the result of some work keeps. */
function kept<T>(work: () => T): { result: T; megabytes: number } {
  gc();
  const before = process.memoryUsage().heapUsed;
  const result = work();
  gc();
  return { result, megabytes: (process.memoryUsage().heapUsed - before) / 2 ** 20 };
}

const resident = (): number => process.resourceUsage().maxRSS / 1024;

/** A log of half a million rows: what its tree keeps, and the most that parsing it takes. */
export const bench: Bench = {
  name: 'memory',
  run() {
    const note = asNote();
    const before = resident();
    const ours = kept(() => parse(note));
    const peak = resident();
    const { declaration, problems } = ours.result.units[0]?.unit ?? {};
    if (
      declaration?.kind !== 'seen' ||
      declaration.rows.length !== ROWS ||
      problems?.length !== 0
    ) {
      throw new Error('the log was not read whole');
    }
    const json = flat(JSON.stringify([...rows()]));
    const plain = kept(() => JSON.parse(json) as LogRow[]);
    if (plain.result.length !== ROWS) throw new Error('the rows were not read whole');
    return Promise.resolve([
      {
        what: 'tree of 483,840 rows, times the memory of JSON.parse',
        measured: ours.megabytes / plain.megabytes,
        target: { atMost: 10 },
        figures: `${ours.megabytes.toFixed(0)} against ${plain.megabytes.toFixed(0)} MB`,
      },
      {
        what: 'most memory resident, of 700 MB',
        measured: peak / 700,
        target: { atMost: 1 },
        figures: `${peak.toFixed(0)} MB, ${before.toFixed(0)} before the parse`,
      },
    ]);
  },
};
