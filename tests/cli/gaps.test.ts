import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { parse } from 'csv-parse/sync';
import { micromark } from 'micromark';
import { gfm, gfmHtml } from 'micromark-extension-gfm';
import papaparse from 'papaparse';
import { describe, expect, test } from 'vitest';
import { root } from '../house/workspace.js';
import { Folder, expectNoTrace } from './folder.js';

const GAME = `game "Kiln Runner" {
  clock 60
  settle 6
  inputs {
    U = y -1   D = y +1   L = x -1   R = x +1
    J = jump   S = strike
  }
  pause P { open 4  dwell 8  resume 1 }
}
`;
const NOTE = `use "game.tiptoe"
spot @snag paused
spot @far
seen {
  @reed : U     -> @rush x3
  @reed : [D1]  -> @rush
  @reed : UL    -> @mud
  @reed : [R1]-J -> @mud
  @reed : D     -> @mud
  @rush : R0-[] -> @snag
  @rush : R     -> @past
}
route barrier from @reed to @past { U @rush R @past }
`;
const folder = () => new Folder({ 'game.tiptoe': GAME, 'a.tiptoe': NOTE });
const schema: unknown = JSON.parse(
  readFileSync(join(root, 'packages/notation-core/schema/gaps.schema.json'), 'utf8'),
);

describe('the table', () => {
  test('sums up each spot, lists twenty gaps, and says how they are ranked', () => {
    const { code, out, err } = folder().run(['gaps', 'a.tiptoe']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toContain('5 of 24 one-frame moves tried from @reed; 0 of 16 zero-frame; 8 ticks of barrier left\n'); // prettier-ignore
    expect(out).toContain('0 of 24 one-frame moves tried from @snag, inside a pause; 0 of 2 zero-frame\n'); // prettier-ignore
    expect(out).toMatch(/\n +1 {2}@reed +L +1 +7 +@past of barrier +@rush 0\n/);
    expect(out.match(/^ *\d+ {2}@/gm)).toHaveLength(20);
    expect(out.replace(/\s+/g, ' ')).toContain(
      'the most that it can save, not what to expect of it',
    );
    expect(out).toMatch(/20 of \d+ gaps; --limit shows more\.\n$/);
  });

  test('takes a limit, a spot, a route, frames, buttons and an exit', () => {
    const rows = (...more: string[]) =>
      (folder().run(['gaps', 'a.tiptoe', '--limit', '9999', ...more]).out.match(/^ *\d+ {2}@.*$/gm) ?? []).map((row) => row.trim().split(/\s+/)); // prettier-ignore
    expect(rows('--spot', '@far')).toHaveLength(24 + 16);
    expect(rows('--spot', 'far', '--spot', 'snag')).toHaveLength(24 + 16 + 24 + 2);
    expect(new Set(rows('--route', 'barrier').map(([, spot]) => spot))).toEqual(
      new Set(['@reed', '@rush', '@past']),
    );
    expect(rows('--spot', 'far', '--frames', '0')).toHaveLength(16);
    expect(rows('--spot', 'far', '--exit', 'none')).toHaveLength(16 + 8);
    const strike = rows('--spot', 'far', '--exit', 'S').map(([, , items]) => items);
    expect(strike).toContain('[U1]-S');
    expect(strike).not.toContain('[U1]-J');
    expect(rows('--spot', 'far', '--buttons', 'JS')).toHaveLength((8 + 2 * 9) * 5);
    expect(folder().run(['gaps', 'a.tiptoe', '--limit', '0']).out).toMatch(/\n0 of \d+ gaps/);
  });
});

describe('the sheet', () => {
  const sheet = (...more: string[]) =>
    folder().run(['gaps', 'a.tiptoe', '--format', 'csv', ...more]).out;

  test('reads alike in two readers of RFC 4180, ranked, every cell but two empty', () => {
    const text = sheet();
    const records: string[][] = parse(text);
    expect(papaparse.parse<string[]>(text, { skipEmptyLines: true }).data).toEqual(records);
    expect(records[0]).toEqual(['spot', 'items', 'landing', 'count', 'notes']);
    expect(records.slice(1).every((cells) => cells.slice(2).join('') === '')).toBe(true);
    const table = folder().run(['gaps', 'a.tiptoe', '--limit', '9999']).out;
    const ranked = (table.match(/^ *\d+ {2}@.*$/gm) ?? []).map((row) => row.trim().split(/\s+/));
    expect(records.slice(1).map(([spot, items]) => [`@${spot}`, items])).toEqual(
      ranked.map(([, spot, items]) => [spot, items]),
    );
    expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  });

  test('holds nothing that a spreadsheet would take for a formula', () => {
    // A cell that begins with one of these is a formula to spreadsheets (common practice, no source).
    expect(parse(sheet('--frames', '2')).flat().filter((cell) => /^[=+\-@\t]/.test(cell))).toEqual([]); // prettier-ignore
  });

  test('goes to a file, and never over one that is there', () => {
    const here = folder();
    const args = ['gaps', 'a.tiptoe', '--format', 'csv', '-o', 'tonight.csv'];
    expect(here.run(args)).toEqual({ code: 0, out: '', err: '' });
    const text = here.read('tonight.csv');
    expect(text).toBe(sheet());
    here.write('tonight.csv', 'filled in');
    const again = here.run(args);
    expect(again.code).toBe(2);
    expect(again.err).toContain('tonight.csv');
    expect(here.read('tonight.csv')).toBe('filled in');
    expect(here.run([...args, '--force']).code).toBe(0);
    expect(here.read('tonight.csv')).toBe(text);
  });

  test('filled in and read back takes its rows off the list', () => {
    const here = folder();
    const lines: string[][] = parse(here.run(['gaps', 'a.tiptoe', '--format', 'csv']).out);
    const filled = lines.map((cells, k) => (k > 0 && k % 3 === 0 ? [...cells.slice(0, 2), 'mud', '2', ''] : cells)); // prettier-ignore
    here.write('s.csv', filled.map((cells) => cells.join(',')).join('\r\n'));
    expect(here.run(['log', 'a.tiptoe', 's.csv']).code).toBe(0);
    const left: string[][] = parse(here.run(['gaps', 'a.tiptoe', '--format', 'csv']).out);
    const key = ([spot, items]: string[]) => `${spot} ${items}`;
    const gone = new Set(filled.filter((cells) => cells[2] === 'mud').map(key));
    const before = lines.slice(1).map(key);
    expect(
      new Set(
        left
          .slice(1)
          .map(key)
          .filter((each) => !each.startsWith('mud ')),
      ),
    ).toEqual(new Set(before.filter((each) => !gone.has(each) && !each.startsWith('mud '))));
    expect(here.run(['fmt', '--check', 'a.tiptoe']).code).toBe(
      folder().run(['fmt', '--check', 'a.tiptoe']).code,
    );
  });
});

describe('the machine form', () => {
  test('fits its schema, whole and limited', () => {
    const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema as object);
    for (const more of [
      [],
      ['--limit', '0'],
      ['--limit', '7', '--buttons', 'S', '--exit', 'none'],
    ]) {
      const { code, out } = folder().run(['gaps', 'a.tiptoe', '--format', 'json', ...more]);
      expect(code).toBe(0);
      const made: unknown = JSON.parse(out);
      expect(validate(made), JSON.stringify(validate.errors)).toBe(true);
    }
    expect(validate({ game: 'x', spots: [], gaps: [] })).toBe(false);
  });

  test('says the same as the table', () => {
    const made = JSON.parse(folder().run(['gaps', 'a.tiptoe', '--format', 'json']).out);
    expect(made.gaps).toHaveLength(made.total);
    const [reed] = made.spots.filter((each: { spot: string }) => each.spot === '@reed');
    expect(reed).toEqual({
      spot: '@reed',
      paused: false,
      route: 'barrier',
      ticksLeft: 8,
      moves: [
        { frames: 0, of: 16, tried: 0, known: 0 },
        { frames: 1, of: 24, tried: 5, known: 0 },
      ],
    });
    expect(made.gaps[0]).toEqual({
      rank: 1, spot: '@reed', items: 'L', form: 'press', exit: false, frames: 1, ticks: 1,
      route: 'barrier', goal: '@past', saves: 7, next: { spot: '@rush', saves: 0 },
    }); // prettier-ignore
    expect(made.gaps.find((gap: { spot: string }) => gap.spot === '@far')).toMatchObject({
      route: null, goal: null, saves: null, next: null,
    }); // prettier-ignore
  });

  test('is a Markdown table with as many rows as asked for', () => {
    const { out } = folder().run(['gaps', 'a.tiptoe', '--format', 'md', '--limit', '12']);
    const html = micromark(out, { extensions: [gfm()], htmlExtensions: [gfmHtml()] });
    expect(html.match(/<tr>/g)).toHaveLength(13);
    expect(html.match(/<li>/g)).toHaveLength(6);
    expect(html).toContain('<td align="left">@reed</td>');
  });
});

describe('what cannot be', () => {
  test.each([
    ['no such file', ['b.tiptoe'], 'there is no such file'],
    ['no file', [], 'it needs a'],
    ['two files', ['a.tiptoe', 'game.tiptoe'], 'it takes one argument'],
    ['a spot that is none', ['a.tiptoe', '--spot', 'red'], 'there is no spot @red. Did you mean @reed?'],
    ['a spot off the route', ['a.tiptoe', '--spot', 'far', '--route', 'barrier'], '@far is not on route barrier'],
    ['a route that is none', ['a.tiptoe', '--route', 'barier'], 'Did you mean barrier?'],
    ['frames below 0', ['a.tiptoe', '--frames', '-1'], '--frames'],
    ['frames without end', ['a.tiptoe', '--frames', '100000'], 'no whole number from 0 to 60'],
    ['a limit that is none', ['a.tiptoe', '--limit', 'few'], 'no whole number'],
    ['a form that is none', ['a.tiptoe', '--format', 'jsn'], 'Did you mean json?'],
    ['an exit that the game lacks', ['a.tiptoe', '--exit', 'Q'], 'the game has no input Q'],
    ['a button that the game lacks', ['a.tiptoe', '--buttons', 'JQ'], 'the game has no input Q'],
    ['a button that is a direction', ['a.tiptoe', '--buttons', 'U'], 'U is a direction'],
    ['a button twice', ['a.tiptoe', '--buttons', 'JJ'], 'twice'],
    ['a note without a game', ['bare.tiptoe'], 'no game is in sight'],
    ['a game without directions', ['still.tiptoe'], 'the game has no directions'],
    ['a route without a start', ['loose.tiptoe', '--route', 'loose'], 'does not say where it starts'],
  ])('is %s', (_, args, words) => {
    const here = folder();
    here.write('bare.tiptoe', 'spot @a\n');
    here.write('still.tiptoe', 'game "Still" { clock 60  settle 2  inputs { J = jump } }\nspot @a\n');
    here.write('loose.tiptoe', `${GAME}spot @a\nroute loose { U }\n`);
    const { code, out, err } = here.run(['gaps', ...args]);
    expect(err).toContain(words);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err.trim().split('\n')).toHaveLength(1);
    expectNoTrace(err);
  }); // prettier-ignore

  test('is a whole list of a note with errors, and it is said', () => {
    const here = folder();
    here.write('a.tiptoe', `${NOTE}route broken { [ }\n`);
    const { code, out, err } = here.run(['gaps', 'a.tiptoe']);
    expect(code).toBe(1);
    expect(out).toContain('5 of 24 one-frame moves tried from @reed');
    expect(err).toMatch(/^tiptoe: a\.tiptoe: it has errors, .* tiptoe check shows them\.\n$/);
  });

  test('is a gap where everything was tried', () => {
    const here = folder();
    const sheet: string[][] = parse(here.run(['gaps', 'a.tiptoe', '--spot', 'far', '--format', 'csv']).out); // prettier-ignore
    const rows = sheet.slice(1).map(([spot, items]) => `@${spot} : ${items} -> @far`);
    here.write('a.tiptoe', `${NOTE}seen {\n${rows.join('\n')}\n}\n`);
    const { code, out } = here.run(['gaps', 'a.tiptoe', '--spot', 'far']);
    expect(code).toBe(0);
    expect(out).toBe('24 of 24 one-frame moves tried from @far; 16 of 16 zero-frame\nNothing of the menu is left to try.\n'); // prettier-ignore
  });
});
