import { parse as parseCsv } from 'csv-parse/sync';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { csv, tsv } from '@core/cli/tables/delimited.js';
import { Counter, Piece, TimeCounter } from '@core/cli/tables/digits.js';
import type { TableFormat, TableJob } from '@core/cli/tables/format.js';
import { json, jsonl } from '@core/cli/tables/json.js';
import { routeTable } from '@core/cli/tables/routes.js';
import { plain } from '@core/cli/screen.js';
import { programOf } from '@core/model/program.js';
import { scopeOf } from '@core/model/scope.js';
import { fraction } from '@core/text/fraction.js';
import { timeFormatter } from '@core/timeline/clock.js';
import {
  type RouteTable,
  type TableShape,
  cellWriter,
  columnsOf,
  rowsOf,
} from '@core/timeline/table.js';
import { expand } from '../support/plain-expansion.js';
import { PLAIN_INPUTS, notation } from '../support/plain-notation.js';
import { plainCases } from '../support/plain-sequences.js';

const TICKS: TableShape = { runs: false, timecode: false };

function tablesOf(text: string): RouteTable[] {
  const program = programOf(text);
  return [...program.files.values()].flatMap((file) => {
    const scope = scopeOf(program, file);
    return [...scope.routes.values()].map((route) => routeTable(route, scope, program, new Map()));
  });
}

function jobOf(routes: readonly RouteTable[], shape: TableShape): TableJob {
  const game = routes[0]?.timeline.game;
  if (game === undefined) throw new Error('a job needs a route');
  return { game, routes, shape, paint: plain, progress: () => undefined };
}

/** All that a form writes; parts are good only until the next is asked for. */
function written(format: TableFormat, job: TableJob): string {
  const parts: Buffer[] = [];
  for (const part of format(job)) parts.push(Buffer.from(part));
  return Buffer.concat(parts).toString();
}

describe('tables of random sequences', () => {
  test('as CSV, read back by csv-parse, hold what the plain expansion says', () => {
    fc.assert(
      fc.property(plainCases, ({ game, items }) => {
        const text = notation(items, game);
        const ticks = expand(items, game);
        const [table] = tablesOf(text);
        if (table === undefined) throw new Error(text);
        const rows: Record<string, string>[] = parseCsv(written(csv, jobOf([table], TICKS)), {
          columns: true,
          record_delimiter: '\r\n',
        });
        let frame = 0;
        const wanted = ticks.map(({ held, pause, runs }, tick) => ({
          route: 'crossing',
          tick: String(tick),
          frame: runs ? String(frame++) : '',
          runs: runs ? '1' : '0',
          ...Object.fromEntries(
            PLAIN_INPUTS.map((name) => [
              name,
              held.has(name) ? (name === 'W' ? '-0.5' : '1') : '0',
            ]),
          ),
          P: pause ? '1' : '0',
        }));
        const got = rows.map(({ time: _, item: _item, line: _line, ...row }) => row);
        expect(got, text).toEqual(wanted);
      }),
      { numRuns: 1000 },
    );
  });

  test('as bytes are what the cells are one by one, in any window', () => {
    const shapes = fc.record({ runs: fc.boolean(), timecode: fc.boolean() });
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    fc.assert(
      fc.property(plainCases, shapes, share, share, ({ game, items }, asked, a, b) => {
        const [table] = tablesOf(notation(items, game));
        if (table === undefined) throw new Error('no route');
        const shape = { ...asked, timecode: asked.timecode && game.clock !== '25/2' };
        const [from = 0, to = 0] = [a, b]
          .map((part) => Math.round(part * table.timeline.ticks))
          .sort((x, y) => x - y);
        const part = { ...table, from, to };
        const cells = cellWriter(part, shape);
        const lines = [
          columnsOf(table.timeline.game, shape),
          ...[...rowsOf(part, shape)].map((row) => cells(row)),
        ].map((line) => `${line.join('\t')}\n`);
        expect(written(tsv, jobOf([part], shape))).toBe(lines.join(''));
      }),
      { numRuns: 1000 },
    );
  });

  test('as JSON and as JSON lines say the same', () => {
    fc.assert(
      fc.property(plainCases, fc.boolean(), ({ game, items }, runs) => {
        const routes = tablesOf(notation(items, game));
        const job = jobOf(routes, { runs, timecode: false });
        const whole: { routes: { name: string; rows: object[] }[] } = JSON.parse(
          written(json, job),
        );
        const lines = written(jsonl, job).trimEnd().split('\n').filter((line) => line !== ''); // prettier-ignore
        const flat = whole.routes.flatMap(({ name, rows }) =>
          rows.map((row) => ({ route: name, ...row })),
        );
        expect(lines.map((line) => JSON.parse(line) as unknown)).toEqual(flat);
      }),
      { numRuns: 300 },
    );
  });
});

test('rows fill many parts, and a row longer than a part has one of its own', () => {
  const name = 'r'.repeat(70_000);
  const game = 'game "g" { clock 60 settle 2 inputs { D = y +1 J = jump } }';
  const tables = tablesOf(`${game}\nroute short { (D .3 J5)*20000 }\nroute ${name} { D .2 J }\n`);
  const rows: string[][] = parseCsv(written(csv, jobOf(tables, TICKS)), {
    record_delimiter: '\r\n',
  });
  expect(tables.map((table) => table.timeline.ticks)).toEqual([219_998, 4]);
  expect(rows.slice(1).map((row) => row[1])).toEqual([
    ...Array.from({ length: 219_998 }, (_, i) => String(i)),
    ...['0', '1', '2', '3'],
  ]);
  expect(rows.slice(-4).map((row) => row[0])).toEqual([name, name, name, name]);
});

describe('counting in digits', () => {
  const buffer = new Uint8Array(64);
  const view = new DataView(buffer.buffer);
  const shown = (piece: { write(into: DataView, at: number): number }) =>
    Buffer.from(buffer.subarray(3, piece.write(view, 3))).toString('latin1');

  test.each([0, 8, 9, 10, 98, 99, 100, 999_998, 9_007_199_254_740_988])('on from %d', (start) => {
    const counter = new Counter();
    counter.set(start);
    for (let i = 0; i < 4; i++) {
      expect(shown(counter)).toBe(String(start + i));
      counter.next();
    }
  });

  test('a piece of any length is copied whole', () => {
    for (const text of ['', 'a', 'abc', 'abcd', 'abcde', 'ü – ’']) {
      const end = Piece.of(text).write(view, 3);
      expect(Buffer.from(buffer.subarray(3, end)).toString()).toBe(text);
    }
  });

  test('gives the times that exact fractions give, on any clock', () => {
    const clocks = fc.oneof(
      fc.constantFrom(fraction(30000, 1001), fraction(60000, 1001), fraction(60), fraction(1)),
      fc
        .tuple(fc.bigInt({ min: 1n, max: 10n ** 9n }), fc.bigInt({ min: 1n, max: 10n ** 6n }))
        .map(([num, den]) => fraction(num, den)),
    );
    const starts = fc.oneof(fc.nat(), fc.maxSafeNat());
    fc.assert(
      fc.property(clocks, starts, (clock, start) => {
        fc.pre(TimeCounter.suits(clock) && Number.isSafeInteger(start + 200));
        const exactly = timeFormatter(clock);
        const counter = new TimeCounter(clock);
        counter.set(start);
        for (let i = 0; i < 200; i++) {
          expect(shown(counter)).toBe(exactly(start + i));
          counter.next();
        }
      }),
    );
  });

  test('refuses clocks whose numbers it cannot hold', () => {
    expect(TimeCounter.suits(fraction(10n ** 17n + 1n, 10n ** 14n))).toBe(false);
    expect(TimeCounter.suits(fraction(1n, 1000n))).toBe(false);
    expect(TimeCounter.suits(fraction(100_000n))).toBe(true);
  });
});

test.each(['1/1000', '0.001', '99999.99999999999999', '12345.000000000000001'])(
  'a clock of %s has its times all the same',
  (clock) => {
    const [table] = tablesOf(`game "g" { clock ${clock} settle 2 inputs { D = y +1 } }\nroute r { D D }\n`); // prettier-ignore
    if (table === undefined) throw new Error('no route');
    const time = timeFormatter(table.timeline.game.clock);
    const rows: string[][] = parseCsv(written(csv, jobOf([table], TICKS)), {
      record_delimiter: '\r\n',
      from_line: 2,
    });
    expect(rows.map((row) => row[3])).toEqual([0, 1, 2, 3].map((tick) => time(tick)));
  },
);
