import { Ajv2020 } from 'ajv/dist/2020.js';
import { parse as parseCsv } from 'csv-parse/sync';
import { micromark } from 'micromark';
import { gfm, gfmHtml } from 'micromark-extension-gfm';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { describe, expect, test } from 'vitest';
import { root } from '../house/workspace.js';
import { Folder, expectNoTrace } from './folder.js';

/** The worked example of section 4 of the language reference, and a way to choose behind it. */
const LOCK = `game "Lock Keeper" {
  clock 30
  settle 3
  inputs { D = y +1 W = y -0.5 "half tilt" J = jump }
  pause P { open 2 dwell 3 resume 1 }
  cue 1 "chain slack"
}
let shuffle = D W2
route sluice "Over the sluice" {
  D [D1]-J .2
}
route weir {
  shuffle*2 # both
  choose finish {
    slow { J ~ J }
    fast { J&(.2 D3) }
  }
}
`;

type Rows = Record<string, string>[];
const csvOf = (text: string): Rows => parseCsv(text, { columns: true, record_delimiter: '\r\n' });
const lock = (more: Record<string, string> = {}) => new Folder({ 'lock.tiptoe': LOCK, ...more });
function good(folder: Folder, ...args: string[]): string {
  const { code, out, err } = folder.run(['frames', ...args]);
  expect({ code, err }).toEqual({ code: 0, err: '' });
  return out;
}

describe('the table for reading', () => {
  test('has a row for each stretch, with pauses set apart', () => {
    expect(good(lock(), 'lock.tiptoe', '--route', 'sluice')).toBe(
      `sluice  Over the sluice
Lock Keeper, 30 ticks a second: 18 ticks, 8 frames, 0.600 s

  tick      time  held  for       frame  item  line
     0  0.000000  D     1 tick        0  D       10
     1  0.033333  .     3 ticks     1-3
:    4  0.133333  P     1 tick   paused  [       10
:    5  0.166667  .     3 ticks  paused  [       10
:    8  0.266667  D P   1 tick   paused  D1      10
     9  0.300000  D     1 tick        4  D1      10
:   10  0.333333  D P   1 tick   paused  D1      10
:   11  0.366667  .     3 ticks  paused  D1      10
:   14  0.466667  J P   1 tick   paused  ]       10
    15  0.500000  J     1 tick        5  J       10
    16  0.533333  .     2 ticks     6-7  .2      10
`,
    );
  });

  test('is coloured only where that is wanted', () => {
    const folder = lock();
    const { out } = folder.run(['frames', 'lock.tiptoe'], { env: { FORCE_COLOR: '1' } });
    expect(out).toContain('\u001b[');
    folder.run(['frames', 'lock.tiptoe', '-o', 'out'], { env: { FORCE_COLOR: '1' } });
    expect(folder.read('out')).not.toContain('\u001b');
  });

  test('shows every tick with --ticks', () => {
    const out = good(lock(), 'lock.tiptoe', '--route', 'sluice', '--ticks', '--to', '3');
    expect(out.trimEnd().split('\n').slice(1)).toEqual([
      'Lock Keeper, 30 ticks a second: 18 ticks, 8 frames, 0.600 s; ticks 0 to 2 shown',
      '',
      '  tick      time  held  for     frame  item  line',
      '     0  0.000000  D     1 tick      0  D       10',
      '     1  0.033333  .     1 tick      1',
      '     2  0.066667  .     1 tick      2',
    ]);
  });
});

describe('CSV', () => {
  test('has the columns of the reference, CRLF, and one header for all routes', () => {
    const out = good(lock(), 'lock.tiptoe', '--format', 'csv');
    const header = 'route,tick,frame,time,runs,D,W,J,P,item,line';
    expect(out.startsWith(`${header}\r\n`)).toBe(true);
    expect(out.split(header)).toHaveLength(2);
    expect(out.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    const rows = csvOf(out);
    expect([...new Set(rows.map((row) => row['route']))]).toEqual(['sluice', 'weir']);
    expect(rows.find((row) => row['route'] === 'weir')).toMatchObject({ tick: '0', frame: '0' });
  });

  // Section 4 of the language reference, the table under its worked example.
  test('of the worked example is the table of the reference', () => {
    const rows = csvOf(good(lock(), 'lock.tiptoe', '--route', 'sluice', '--format', 'csv'));
    const held = rows.map((row) => ['D', 'J', 'P'].filter((key) => row[key] === '1').join(''));
    expect(held.join(',')).toBe('D,,,,P,,,,DP,D,DP,,,,JP,J,,');
    expect(rows.map((row) => row['frame']).join(',')).toBe('0,1,2,3,,,,,,4,,,,,,5,6,7');
    expect(rows.map((row) => row['runs']).join('')).toBe('111100000100000111');
    expect(rows[17]?.['time']).toBe('0.566667');
  });

  test('names the item and its line, the line of a phrase in its own file', () => {
    const rows = csvOf(good(lock(), 'lock.tiptoe', '--route', 'weir', '--format', 'csv', '--runs'));
    const items = rows.map(({ tick, ticks, W, item, line }) => [tick, ticks, W, item, line].join(' ')); // prettier-ignore
    expect(items).toEqual([
      ...['0 1 0 D 8', '1 3 0  ', '4 2 -0.5 W2 8', '6 3 0  '],
      ...['9 1 0 D 8', '10 3 0  ', '13 2 -0.5 W2 8', '15 3 0  '],
      ...['18 1 0 J 15', '19 3 0 ~ 15', '22 1 0 J 15'],
    ]);
  });

  test('gives an item in a phrase of another file the line of its use, one use or many', () => {
    const folder = lock({
      'notes/way.tiptoe': `use "../lock.tiptoe"
let turn = shuffle J
route way {
  shuffle
  turn

  (shuffle .2)*2
}
`,
    });
    const rows = csvOf(good(folder, 'notes/way.tiptoe', '--format', 'csv', '--runs'));
    const items = rows
      .filter((row) => row['item'] !== '')
      .map((row) => `${row['item'] ?? ''} ${row['line'] ?? ''}`);
    expect(items).toEqual([
      ...['D 4', 'W2 4', 'D 2', 'W2 2', 'J 2'],
      ...['D 7', 'W2 7', '.2 7', 'D 7', 'W2 7', '.2 7'],
    ]);
  });

  test('cuts stretches to the window', () => {
    const args = ['lock.tiptoe', '--route', 'sluice', '--format', 'csv', '--runs'];
    const rows = csvOf(good(lock(), ...args, '--from', '2', '--to', '6'));
    const cells = rows.map(({ tick, ticks, frame, frames }) => [tick, ticks, frame, frames].join(' ')); // prettier-ignore
    expect(cells).toEqual(['2 2 2 2', '4 1  0', '5 1  0']);
  });
});

test('TSV has tabs and LF, and the cells of CSV', () => {
  const folder = lock();
  const tsv = good(folder, 'lock.tiptoe', '--format', 'tsv');
  const csv = good(folder, 'lock.tiptoe', '--format', 'csv');
  expect(tsv.replaceAll('\t', ',').replaceAll('\n', '\r\n')).toBe(csv);
});

test('Markdown, read by a GFM parser, is a table with the cells of CSV', () => {
  const folder = lock();
  const text = good(folder, 'lock.tiptoe', '--format', 'md', '--runs');
  const html = micromark(text, { extensions: [gfm()], htmlExtensions: [gfmHtml()] });
  expect(html.match(/<table>/g)).toHaveLength(1);
  expect(html).not.toMatch(/<(?!\/?(?:table|thead|tbody|tr|th|td)\b)/);
  const cells = [...html.matchAll(/<tr>([^]*?)<\/tr>/g)].map(([, row = '']) =>
    [...row.matchAll(/<t[dh][^>]*>(.*?)<\/t[dh]>/g)].map(([, cell]) => cell),
  );
  const csv: string[][] = parseCsv(good(folder, 'lock.tiptoe', '--format', 'csv', '--runs'));
  expect(cells).toEqual(csv);
});

describe('JSON', () => {
  const schema = JSON.parse(
    readFileSync(`${root}packages/notation-core/schema/frames.schema.json`, 'utf8'),
  ) as object;
  const validate = new Ajv2020({ strict: true, allErrors: true }).compile(schema);

  test.each([
    [[]],
    [['--runs']],
    [['--timecode']],
    [['--runs', '--timecode', '--from', '3']],
    [['--from', '20']],
  ])('with %j is valid by the shipped schema', (args) => {
    const text = good(lock(), 'lock.tiptoe', '--format', 'json', ...args);
    const value: unknown = JSON.parse(text);
    validate(value);
    expect(validate.errors).toBeNull();
  });

  test('says what the table says', () => {
    const text = good(lock(), 'lock.tiptoe', '--route', 'sluice', '--format', 'json');
    const value = JSON.parse(text);
    expect(value.game).toEqual({ title: 'Lock Keeper', clock: '30', inputs: ['D', 'W', 'J'], pause: 'P' }); // prettier-ignore
    const [{ rows, ...route }] = value.routes;
    expect(route).toEqual({ name: 'sluice', title: 'Over the sluice', ticks: 18, frames: 8, seconds: 0.6 }); // prettier-ignore
    expect(rows).toHaveLength(18);
    expect(rows[8]).toEqual({ tick: 8, frame: null, time: 0.266667, runs: false, held: { D: 1, P: 1 }, item: 'D1', line: 10 }); // prettier-ignore
  });

  test('gives the schema something to refuse', () => {
    const value = JSON.parse(good(lock(), 'lock.tiptoe', '--format', 'json'));
    for (const spoil of [
      (row: Record<string, unknown>) => (row['frame'] = -1),
      (row: Record<string, unknown>) => (row['held'] = { DR: 1 }),
      (row: Record<string, unknown>) => (row['ticks'] = 3),
      (row: Record<string, unknown>) => delete row['runs'],
    ]) {
      const copy = structuredClone(value);
      spoil(copy.routes[0].rows[0]);
      expect(validate(copy)).toBe(false);
    }
  });
});

describe('timecode', () => {
  /** The part of the smpte-timecode package (1.3, MIT) that is used here; it ships no types. */
  type Reference = (
    frames: number,
    rate: readonly [number, number],
    drop: boolean,
  ) => { toString(): string };
  const reference = createRequire(import.meta.url)('smpte-timecode') as Reference;

  test.each([
    ['30000/1001', [30_000, 1001], true],
    ['60000/1001', [60_000, 1001], true],
    ['25', [25, 1], false],
    ['60', [60, 1], false],
  ] as const)('at %s is what smpte-timecode says', (clock, rate, drop) => {
    const note = LOCK.replace('clock 30', `clock ${clock}`).replace('D [D1]-J .2', 'D*100000');
    const folder = new Folder({ 'lock.tiptoe': note });
    const args = ['lock.tiptoe', '--route', 'sluice', '--format', 'csv', '--timecode'];
    const rows = csvOf(good(folder, ...args, '--from', '1790', '--to', '3700'));
    expect(rows).toHaveLength(1910);
    for (const row of rows) {
      expect(row['timecode']).toBe(reference(Number(row['tick']), rate, drop).toString());
    }
  });

  test('is refused for a clock that has none', () => {
    const folder = new Folder({ 'lock.tiptoe': LOCK.replace('clock 30', 'clock 31') });
    const { code, out, err } = folder.run(['frames', 'lock.tiptoe', '--timecode']);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(/^tiptoe: --timecode: a clock of 31 ticks a second has no SMPTE timecode/);
  });
});

describe('a route as long as numbers are exact', () => {
  const LONG = LOCK.replace('D [D1]-J .2', '((((D*1000)*1000)*1000)*1000)');

  test('is shown in any window, one tick by one', () => {
    const folder = new Folder({ 'lock.tiptoe': LONG });
    const args = ['lock.tiptoe', '--route', 'sluice', '--format', 'csv'];
    // A tap and three neutral ticks, 10^12 times; the last has no pace behind it.
    const rows = csvOf(good(folder, ...args, '--from', '999999999998', '--to', '1000000000001'));
    expect(rows.map(({ tick, frame, D }) => [tick, frame, D].join(' '))).toEqual([
      '999999999998 999999999998 0',
      '999999999999 999999999999 0',
      '1000000000000 1000000000000 1',
    ]);
    expect(rows[1]?.['time']).toBe('33333333333.300000');
    const end = csvOf(good(folder, ...args, '--from', '3999999999996'));
    expect(end.map(({ tick, D }) => `${tick ?? ''} ${D ?? ''}`)).toEqual(['3999999999996 1']);
  });

  test('is refused where it would be longer', () => {
    const folder = new Folder({ 'lock.tiptoe': LONG.replace('*1000)', '*10000000)') });
    const { code, out, err } = folder.run(['frames', 'lock.tiptoe', '--route', 'sluice']);
    expect(out).toBe('');
    expect(code).toBeGreaterThan(0);
    expect(err).toContain('9007199254740991');
    expectNoTrace(err);
  });
});

describe('choose', () => {
  const items = (folder: Folder, ...args: string[]) =>
    csvOf(good(folder, 'lock.tiptoe', '--route', 'weir', '--format', 'csv', '--runs', ...args))
      .filter((row) => row['item'] !== '')
      .slice(4)
      .map((row) => row['item']);

  test('takes the first way, or the one that is asked for', () => {
    const folder = lock();
    expect(items(folder)).toEqual(['J', '~', 'J']);
    expect(items(folder, '--choose', 'finish=slow')).toEqual(['J', '~', 'J']);
    expect(items(folder, '--choose', 'finish=fast')).toEqual(['.2', 'D3']);
  });
});

test('until runs as often as the log says, and its minimum where it does not', () => {
  const note = (rows: string) => `game "g" { clock 30 settle 2 inputs { U = y -1 } }
spot @a
spot @b
spot @c
seen { ${rows} }
route up from @a to @c { U*1+ until @c }
`;
  const presses = (rows: string) => {
    const folder = new Folder({ 'up.tiptoe': note(rows) });
    const { out } = folder.run(['frames', 'up.tiptoe', '--format', 'csv', '--runs']);
    return csvOf(out).filter((row) => row['U'] === '1').length;
  };
  expect(presses('@a : U -> @b x9  @b : U -> @c x9')).toBe(2);
  expect(presses('@a : U -> @c x9')).toBe(1);
});

describe('findings', () => {
  const BAD = LOCK.replace('shuffle*2 # both', 'shufle*2');

  test('of a route with errors are printed in place of its table; the others have theirs', () => {
    const folder = new Folder({ 'lock.tiptoe': BAD });
    const { code, out, err } = folder.run(['frames', 'lock.tiptoe', '--format', 'csv']);
    expect(code).toBe(1);
    expect([...new Set(csvOf(out).map((row) => row['route']))]).toEqual(['sluice']);
    expect(err).toMatch(/^lock\.tiptoe:13:3 error: shufle is no phrase\n/);
    expect(err).toMatch(/way out: Did you mean shuffle\?/);
    expect(err).toMatch(/\ntiptoe: route weir: no table, as it has an error\n$/);
    expect(folder.run(['frames', 'lock.tiptoe', '--route', 'sluice'])).toMatchObject({ code: 0, err: '' }); // prettier-ignore
  });

  test('leave no file where no route has a table', () => {
    const folder = new Folder({ 'lock.tiptoe': BAD });
    const args = ['frames', 'lock.tiptoe', '--route', 'weir', '-o', 'weir.csv'];
    expect(folder.run(args)).toMatchObject({ code: 1, out: '' });
    expect(folder.list()).toEqual(['lock.tiptoe']);
  });

  test('of the game stop every route, and are printed once', () => {
    const folder = new Folder({ 'lock.tiptoe': LOCK.replace('clock 30', 'clock -30') });
    const { code, out, err } = folder.run(['frames', 'lock.tiptoe']);
    expect({ code, out }).toEqual({ code: 1, out: '' });
    expect(err.match(/rule: bad-setting/g)).toHaveLength(1);
    expect(err).toContain('route sluice: no table');
    expect(err).toContain('route weir: no table');
  });

  test('of a phrase stop the routes that use it, in this file or another', () => {
    const phrase = LOCK.replace('let shuffle = D W2', 'let shuffle = D DW0');
    const folder = new Folder({
      'lock.tiptoe': phrase,
      'way.tiptoe': 'use "lock.tiptoe"\nroute way { shuffle }\nroute other { D J }\n',
    });
    const own = folder.run(['frames', 'lock.tiptoe', '--format', 'csv']);
    expect(own.code).toBe(1);
    expect([...new Set(csvOf(own.out).map((row) => row['route']))]).toEqual(['sluice']);
    const used = folder.run(['frames', 'way.tiptoe', '--format', 'csv']);
    expect(used.code).toBe(1);
    expect([...new Set(csvOf(used.out).map((row) => row['route']))]).toEqual(['other']);
    expect(used.err).toMatch(/^lock\.tiptoe:8:/);
  });

  test('elsewhere, and warnings, stop nothing and are not printed', () => {
    // A press before the last one's movement has run its course is a warning.
    const note = LOCK.replace('D [D1]-J .2', 'D . J').replace('let shuffle', 'let idle = Q\nlet shuffle'); // prettier-ignore
    const folder = new Folder({ 'lock.tiptoe': note });
    expect(folder.run(['check', 'lock.tiptoe']).out).toMatch(/warning.*\n[^]*rule: unsettled/);
    expect(folder.run(['frames', 'lock.tiptoe'])).toMatchObject({ code: 0, err: '' });
  });

  test('of a declaration that can no longer be read count, as it may have been a route', () => {
    const folder = new Folder({ 'lock.tiptoe': `${LOCK}rout third { D }\n` });
    const all = folder.run(['frames', 'lock.tiptoe', '--format', 'csv']);
    expect(all.code).toBe(1);
    expect(all.err).toMatch(/^lock\.tiptoe:19:1 error/);
    expect(folder.run(['frames', 'lock.tiptoe', '--route', 'weir'])).toMatchObject({ code: 0, err: '' }); // prettier-ignore
  });

  test('that tiptoe.json silences stop nothing', () => {
    const rules = JSON.stringify({ rules: { 'opposed-directions': 'warning' } });
    const note = LOCK.replace('D [D1]-J .2', 'DW3');
    const folder = new Folder({ 'lock.tiptoe': note });
    expect(folder.run(['frames', 'lock.tiptoe', '--route', 'sluice']).code).toBe(1);
    folder.write('tiptoe.json', rules);
    expect(folder.run(['frames', 'lock.tiptoe', '--route', 'sluice']).code).toBe(0);
  });
});

describe('--output', () => {
  test('replaces a file only with --force', () => {
    const folder = lock({ 'out.csv': 'mine\n' });
    const args = ['frames', 'lock.tiptoe', '--format', 'csv', '--output', 'out.csv'];
    const { code, out, err } = folder.run(args);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toBe('tiptoe: out.csv: it exists already. Name another file, or give --force to replace it.\n'); // prettier-ignore
    expect(folder.read('out.csv')).toBe('mine\n');
    expect(folder.run([...args, '--force'])).toEqual({ code: 0, out: '', err: '' });
    expect(folder.read('out.csv')).toBe(good(folder, 'lock.tiptoe', '--format', 'csv'));
    expect(folder.list()).toEqual(['lock.tiptoe', 'out.csv']);
  });

  test('ends quietly where nobody reads on', () => {
    const folder = new Folder({ 'lock.tiptoe': LOCK.replace('D [D1]-J .2', 'D*1000000000') });
    const { stdout, stderr } = folder.shell('tiptoe frames lock.tiptoe --route sluice --format csv | head -2'); // prettier-ignore
    expect(stdout).toBe('route,tick,frame,time,runs,D,W,J,P,item,line\r\nsluice,0,0,0.000000,1,1,0,0,0,D,10\r\n'); // prettier-ignore
    expect(stderr).toBe('');
  });
});

describe('wrong usage is one line with a way out, and exit code 2', () => {
  test.each([
    [['lock.tiptoe', '--route', 'sluise'], /^--route: .*sluise.*Did you mean sluice\?$/],
    [['lock.tiptoe', '--route', 'attic'], /^--route: .*attic.*sluice, weir/],
    [['lock.tiptoe', '--choose', 'finish'], /^--choose: "finish" is not PLACE=WAY/],
    [['lock.tiptoe', '--choose', 'finsh=fast'], /^--choose: .*Did you mean finish\?$/],
    [['lock.tiptoe', '--choose', 'finish=fest'], /^--choose: .*Did you mean fast\?$/],
    [['lock.tiptoe', '--choose', 'finish=quietly'], /^--choose: .*There are: slow, fast\.$/],
    [['lock.tiptoe', '--format', 'cvs'], /^--format: .*Did you mean csv\?$/],
    [['lock.tiptoe', '--from', '-1'], /^--from: /],
    [['lock.tiptoe', '--from', '1.5'], /^--from: "1\.5" is no tick/],
    [['lock.tiptoe', '--to', '9007199254740992'], /^--to: "9007199254740992" is no tick/],
    [['lock.tiptoe', '--to', '0'], /^--to: from 0 to 0 there is no tick\. Write --to 1/],
    [['lock.tiptoe', '--from', '9', '--to', '9'], /^--to: from 9 to 9 there is no tick/],
    [['lock.tiptoe', '--from', '1000'], /^--from: there are 23 ticks, so none from 1000 on/],
    [['lock.tiptoe', '--runs', '--ticks'], /^--runs: it cannot stand beside --ticks/],
    [['lok.tiptoe'], /^lok\.tiptoe: there is no such file\. Did you mean lock\.tiptoe\?$/],
    [['game.tiptoe'], /^game\.tiptoe: it declares no route/],
    [['.'], /^\.: it is a folder, not a file/],
    [['notes'], /^notes: it is a folder, not a file/],
    [[], /^tiptoe frames: it needs a file/],
    [['lock.tiptoe', 'game.tiptoe'], /it takes one argument/],
    [['lock.tiptoe', '-o', 'no/such/out'], /^no\/such\/out: .*there is no such folder/],
  ])('%j', (args, line) => {
    const folder = lock({
      'game.tiptoe': 'game "g" { clock 30 inputs { D = y +1 } }\n',
      'notes/empty.tiptoe': '',
    });
    const { code, out, err } = folder.run(['frames', ...args]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err.endsWith('\n')).toBe(true);
    expect(err.replace(/^tiptoe: /, '').trimEnd()).toMatch(line);
    expect(err.trimEnd()).not.toContain('\n');
    expectNoTrace(err);
  });
});
