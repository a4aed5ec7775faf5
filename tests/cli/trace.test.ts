import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { micromark } from 'micromark';
import { gfm, gfmHtml } from 'micromark-extension-gfm';
import { describe, expect, test } from 'vitest';
import { root } from '../house/workspace.js';
import { expectNoTrace, Folder } from './folder.js';

const GAME = `game "Tin Pier" {
  clock 60 settle 5
  inputs { U = y -1 D = y +1 L = x -1 R = x +1 J = jump }
  pause P { open 2 dwell 4 resume 2 }
}
`;
const NOTE = `${GAME}
spot @a at (0, 0)
spot @c "a crane"
ground yard within (-20, -20) to (20, 20) { L by (-5, 0.5) }
seen {
  @a : U -> @b x4
  @b : U -> @c x5
  @c : U -> @b x6
  @c : R -> @d x2
  @c : R -> @b x1
  @a : R D -> @c x3
}
route ferry "Over | under" from anywhere to @d {
  U*3+ until @c
  R @d
}
route ladder from @a {
  choose way {
    long { R D }
    short { L }
  }
}
route song { U U }
`;
const folder = (text = NOTE) => new Folder({ 'pier.tiptoe': text });
const validate = new Ajv2020({ strict: true }).compile(
  JSON.parse(readFileSync(join(root, 'packages/notation-core/schema/trace.schema.json'), 'utf8')),
);

/** What a run prints as JSON, once the schema has accepted it. */
function jsonOf(here: Folder, ...args: string[]) {
  const { out, err, code } = here.run(['trace', 'pier.tiptoe', '--format', 'json', ...args]);
  expect({ err, code }).toEqual({ err: '', code: 0 });
  const value: unknown = JSON.parse(out);
  expect(validate(value), JSON.stringify(validate.errors)).toBe(true);
  return value as { routes: { name: string; steps: Record<string, unknown>[] }[] };
}

describe('as a table', () => {
  test('each item has its line, its places and its proof', () => {
    const { out, err, code } = folder().run(['trace', 'pier.tiptoe']);
    expect({ err, code }).toEqual({ err: '', code: 0 });
    expect(out).toBe(`ferry
from @a, @b, @c

line  item           can be at  proved by
  19  U*3+ until @c  @c         3 rows, each seen 4x or more
        from 2 places behind the minimum: @c after 3 to 4 in all
        settles: @b > @c, every one of 3 starts within 1
  20  R              @b, @d     2 rows, each seen 1x or more

ladder
from @a

line  item  can be at     proved by
  24  R     within a row  1 row, seen 3x
  24  D     @c

song
not followed: the route has no from
`);
  });

  test('an until that never arrives shows where it goes round', () => {
    const text = NOTE.replace('until @c', 'until @z');
    const { out, code } = folder(text).run(['trace', 'pier.tiptoe', '--route', 'ferry']);
    expect(code).toBe(0);
    expect(out).toContain('\n        never from @b, @c: it goes round @b > @c\n');
  });

  test('what the log does not say is unknown until the next claim', () => {
    const text = `${GAME}seen { @a : U -> @b x2 }\nroute r from @a { U D R @a U }\n`;
    const { out } = folder(text).run(['trace', 'pier.tiptoe']);
    expect(out.split('\n').slice(4, 8).map((line) => line.trim().split(/ {2,}/).slice(1, 3))).toEqual([
      ['U', '@b'],
      ['D', 'unknown'],
      ['R', 'unknown'],
      ['U', '@b'],
    ]); // prettier-ignore
  });

  test('a wrong landing is no reason not to show where the log leads', () => {
    const text = `${GAME}seen { @a : U -> @b x2 }\nspot @c\nroute r from @a to @c { U @c }\n`;
    const here = folder(text);
    expect(here.run(['check', 'pier.tiptoe']).code).toBe(1);
    const { out, err, code } = here.run(['trace', 'pier.tiptoe']);
    expect({ err, code }).toEqual({ err: '', code: 0 });
    expect(out).toMatch(/U +@b +1 row, seen 2x/);
  });
});

describe('as JSON', () => {
  test('holds each route with its steps, spots sorted and written with @', () => {
    const { routes } = jsonOf(folder());
    expect(routes.map(({ name }) => name)).toEqual(['ferry', 'ladder', 'song']);
    const [first, second] = routes[0]?.steps ?? [];
    expect(first).toEqual({
      item: 'U*3+ until @c',
      line: 19,
      spots: ['@c'],
      unknown: false,
      within: false,
      rows: [
        { from: '@a', to: '@b', sightings: 4 },
        { from: '@b', to: '@c', sightings: 5 },
        { from: '@c', to: '@b', sightings: 6 },
      ],
      until: { spot: '@c', arrived: [{ from: '@b', times: 4 }, { from: '@c', times: 3 }], never: [] },
      settles: { cycles: [['@b', '@c']], after: 1, starts: 3, lost: [] },
    }); // prettier-ignore
    expect(second).toMatchObject({ item: 'R', line: 20, spots: ['@b', '@d'], unknown: false });
  });

  test('takes the ways that are chosen, and shows open ground by its coordinates', () => {
    const { routes } = jsonOf(folder(), '--route', 'ladder', '--choose', 'way=short');
    expect(routes[0]?.steps).toMatchObject([{ item: 'L', spots: ['(-5, 0.5)'], unknown: false }]);
  });

  test('is what the schema says for the examples, cycles and lost starts', () => {
    for (const file of ['saltmarsh/barrier', 'saltmarsh/yard', 'lanternworks/chimney']) {
      const path = join(root, 'examples', `${file}.tiptoe`);
      const { out, code } = new Folder().run(['trace', path, '--format', 'json']);
      expect(code).toBe(0);
      expect(validate(JSON.parse(out)), JSON.stringify(validate.errors)).toBe(true);
    }
    const text = `${GAME}seen { @a : U -> @b @b : U -> @a @e : U -> @f }\nspot @z\nroute r from @a @b @e { U*2+ until @z }\n`;
    expect(jsonOf(folder(text)).routes[0]?.steps).toMatchObject([
      { until: { never: [{ from: ['@a', '@b'], tail: 0, cycle: ['@a', '@b'] }] }, settles: { lost: ['@e'] } },
    ]); // prettier-ignore
  });

  test('the schema refuses other objects', () => {
    const good = jsonOf(folder());
    const step = good.routes[0]?.steps[0];
    for (const bad of [
      {},
      { routes: [{ name: 'x' }] },
      { routes: [{ ...good.routes[0], steps: [{ ...step, spots: ['c'] }] }] },
      { routes: [{ ...good.routes[0], steps: [{ ...step, line: 0 }] }] },
      { routes: [{ ...good.routes[0], steps: [{ ...step, extra: 1 }] }] },
    ]) {
      expect(validate(bad)).toBe(false);
    }
  });
});

describe('as Markdown', () => {
  test('is a table a route in the eyes of a GFM reader, whatever the note holds', () => {
    const { out, code } = folder().run(['trace', 'pier.tiptoe', '--format', 'md']);
    expect(code).toBe(0);
    const html = micromark(out, { extensions: [gfm()], htmlExtensions: [gfmHtml()], allowDangerousHtml: true }); // prettier-ignore
    expect(html.match(/<table>/g)).toHaveLength(2);
    expect(html.match(/<h2>/g)).toHaveLength(3);
    const rows = [...html.matchAll(/<tr>([^]*?)<\/tr>/g)].map(([, row = '']) => row.match(/<t[dh]/g)?.length); // prettier-ignore
    expect(new Set(rows)).toEqual(new Set([4]));
    expect(html).toContain('@c<br>from 2 places behind the minimum');
  });
});

describe('what is wrong is said on standard error', () => {
  test('a route with errors has its findings and exit code 1; the others are shown', () => {
    const here = folder(`${NOTE}route crooked from @a { UD X }\n`);
    const { out, err, code } = here.run(['trace', 'pier.tiptoe']);
    expect(code).toBe(1);
    expect(out).toContain('ladder\n');
    expect(out).not.toContain('crooked');
    expect(err).toContain('rule: opposed-directions');
    expect(err).toContain('route crooked: no trace, as it has 2 errors');
    expectNoTrace(err);
  });

  test.each([
    [['trace', 'none.tiptoe'], 2, /^tiptoe: none\.tiptoe: /],
    [['trace'], 2, /file/],
    [['trace', 'pier.tiptoe', '--route', 'fery'], 2, /no route fery. Did you mean ferry\?/],
    [['trace', 'pier.tiptoe', '--choose', 'way=sort'], 2, /choose way has no way sort. Did you mean short\?/],
    [['trace', 'pier.tiptoe', '--choose', 'way'], 2, /is not PLACE=WAY/],
    [['trace', 'pier.tiptoe', '--choose', 'wy=long'], 2, /Did you mean way\?/],
    [['trace', 'pier.tiptoe', '--format', 'csv'], 2, /csv/],
  ])('%j', (args, code, words) => {
    const ran = folder().run(args);
    expect({ code: ran.code, out: ran.out }).toEqual({ code, out: '' });
    expect(ran.err).toMatch(words);
    expectNoTrace(ran.err);
  }); // prettier-ignore

  test('a file without routes, and one that is there already', () => {
    const here = folder(GAME);
    expect(here.run(['trace', 'pier.tiptoe'])).toMatchObject({ code: 2, out: '' });
    const other = folder();
    other.write('out.md', 'mine');
    const ran = other.run(['trace', 'pier.tiptoe', '--format', 'md', '-o', 'out.md']);
    expect(ran.code).toBe(2);
    expect(other.read('out.md')).toBe('mine');
    expect(other.run(['trace', 'pier.tiptoe', '--format', 'md', '-o', 'out.md', '--force']).code).toBe(0); // prettier-ignore
    expect(other.read('out.md')).toContain('## ferry');
  });
});
