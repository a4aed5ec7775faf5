import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { drive } from '@core/cli/find/drive.js';
import { knownOf } from '@core/positions/context.js';
import { Finder } from '@core/positions/find.js';
import { root } from '../house/workspace.js';
import { scopeOfNote } from '../support/finding.js';
import { Folder, expectNoTrace } from './folder.js';

const NOTE = `game "Saltmarsh Courier" {
  clock 50
  settle 7
  inputs { U = y -1 D = y +1 R = x +1 J = jump }
}
spot @reed at (412, 88) "toe on the last plank"
spot @rush "heel in the mud"
spot @mud "knee deep"
seen {
  @reed : U -> @rush x9
  @rush : U -> @mud x9
  @mud : U -> @reed x9
  @rush : R -> @past x5
  @reed : D -> @ditch x2
}
ground yard within (380, 60) to (520, 140) {
  R by (13, 0)
  U by (0, -13)
}
`;
const folder = () => new Folder({ 'a.tiptoe': NOTE });

/** A ring whose starts only come together after very many presses: long work (Černý's automaton). */
function ring(n: number): string {
  const rows = Array.from(
    { length: n },
    (_, i) => `@s${i} : U -> @s${(i + 1) % n} x2\n@s${i} : D -> @s${i === n - 1 ? 0 : i} x2\n`,
  );
  return `game "Round Pond" { clock 60 settle 3 inputs { U = y -1 D = y +1 } }\nseen {\n${rows.join('')}}\n`;
}

test('prints routes that check accepts behind the note', () => {
  const here = folder();
  const { code, out, err } = here.run(['find', 'a.tiptoe', '--from', 'reed,@mud', '--to', '@past', '--best', '2']); // prettier-ignore
  expect({ code, err }).toEqual({ code: 0, err: '' });
  expect(out).toContain(
    [
      '# 9 ticks (0.180 s), 2 presses, every row seen 5 times or more',
      'route found_1 from @reed, @mud to @past {',
      '  U*1+ until @rush R',
      '}',
    ].join('\n'),
  );
  here.write('b.tiptoe', NOTE + out);
  const checked = here.run(['check', 'b.tiptoe', '--format', 'json']);
  const { findings } = JSON.parse(checked.out) as { findings: { severity: string; span: { start: number } }[] }; // prettier-ignore
  expect(findings.filter(({ severity }) => severity === 'error')).toEqual([]);
});

test('a name that is taken is left alone', () => {
  const here = new Folder({ 'a.tiptoe': `${NOTE}route found_1 { U }\n` });
  const { out } = here.run(['find', 'a.tiptoe', '--from', '@rush', '--to', '@past']);
  expect(out).toContain('route found_2 from @rush');
});

test('from anywhere says so in its route', () => {
  const here = new Folder({ 'a.tiptoe': NOTE.replace('  @reed : D -> @ditch x2\n', '') });
  const { out } = here.run(['find', 'a.tiptoe', '--from', 'anywhere', '--to', '@past']);
  expect(out).toContain('route found_1 from anywhere to @past {\n  U*1+ until @rush R\n}');
});

describe('json', () => {
  const schema = JSON.parse(
    readFileSync(`${root}packages/notation-core/schema/find.schema.json`, 'utf8'),
  ) as object;
  const validate = new Ajv2020({ strict: true, allowUnionTypes: true }).compile(schema);

  test.each([
    ['plans', ['--from', '@reed', '--to', '@past'], 0],
    ['plans on ground', ['--from', '@reed', '--to', '(425, 75)', '--best', '1'], 0],
    ['none', ['--from', '@past', '--to', '@reed'], 1],
    ['nothing there', ['--from', '@reed', '--to', '(413, 75)'], 1],
  ] as const)('%s, by its schema', (_, args, wanted) => {
    const { code, out } = folder().run(['find', 'a.tiptoe', '--format', 'json', ...args]);
    expect(code).toBe(wanted);
    const result = JSON.parse(out) as { plans: { ticks: number }[]; exhausted: boolean };
    expect(validate(result), JSON.stringify(validate.errors)).toBe(true);
    expect(result.exhausted).toBe(true);
    expect(result.plans.length > 0).toBe(wanted === 0);
  });

  test('numbers of a plan', () => {
    const { out } = folder().run(['find', 'a.tiptoe', '--format', 'json', '--from', '@reed', '--to', '@past']); // prettier-ignore
    const { plans } = JSON.parse(out) as { plans: unknown[] };
    expect(plans).toEqual([
      {
        sequence: 'U R', ticks: 9, presses: 2, sightings: 5, seconds: 0.18,
        from: ['@reed'], to: '@past', sure: true, rescues: [],
      },
    ]); // prettier-ignore
  });
});

describe('wrong usage is one line with a way out, and exit code 2', () => {
  test.each([
    [['--to', '@past'], '--from: it has to say where the character stands. Write --from @a, --from @a,@b or --from anywhere.'],
    [['--from', '@reed'], '--to: it has to say where the character is to stand. Write --to @b, for example.'],
    [['--from', '@red', '--to', '@past'], '--from: there is no spot @red in these notes. Did you mean @reed?'],
    [['--from', '@reed', '--to', '@pats'], '--to: there is no spot @pats in these notes. Did you mean @past?'],
    [['--from', '@reed', '--to', '(1, 2'], '--to: "(1, 2" is no place. Write --to "(412, 88)" or --to "(400, 80) to (420, 90)".'],
    [['--from', '@reed', '--to', '(1; 2)'], '--to: "(1; 2)" is no place. Write --to "(412, 88)" or --to "(400, 80) to (420, 90)".'],
    [['--from', '@reed', '--to', '(1, 2) to (3, 4, 5)'], '--to: the corners of (1, 2) to (3, 4, 5) have 2 and 3 numbers'],
    [['--from', '@reed', '--to', '(1.5, 2)'], '--to: the spots and moves of these notes have whole numbers: nothing lies there'],
    [['--from', '@reed', '--to', '(0, 0) to (9999999, 9999999)'], '--to: the window has more than 1000000 points. Name a smaller one.'],
    [['--from', '@reed', '--to', '@past', '--by', 'tick'], '--by: "tick" is none of ticks, presses, sightings. Did you mean ticks?'],
    [['--from', '@reed', '--to', '@past', '--best', '0'], '--best: "0" is no whole number from 1 to 1000. Write --best 1, for example.'],
  ] as const)('%j', (args, line) => {
    const { code, out, err } = folder().run(['find', 'a.tiptoe', ...args]);
    expect({ code, out, err }).toEqual({ code: 2, out: '', err: `tiptoe: ${line}\n` });
    expectNoTrace(err);
  }); // prettier-ignore

  test('coordinates without a ground', () => {
    const here = new Folder({ 'a.tiptoe': NOTE.replace(/ground[^]*/, '') });
    const { code, err } = here.run(['find', 'a.tiptoe', '--from', '@reed', '--to', '(1, 2)']);
    expect(code).toBe(2);
    expect(err).toBe('tiptoe: --to: coordinates need a ground, and these notes have none. Name a spot: --to @b.\n'); // prettier-ignore
  });

  test('a file that is not there', () => {
    const { code, err } = folder().run(['find', 'b.tiptoe', '--from', '@a', '--to', '@b']);
    expect(code).toBe(2);
    expect(err).toContain('b.tiptoe: there is no such file');
  });
});

describe('limits', () => {
  test.each([
    ['--seconds', '1', 'time', 'stopped at the limit of 1 second'],
    ['--memory', '1', 'memory', 'stopped at the limit of 1 megabyte'],
  ])('%s %s: the bound is given, exit code 1', (option, value, stopped, words) => {
    const here = new Folder({ 'a.tiptoe': ring(26) });
    const args = ['find', 'a.tiptoe', '--from', 'anywhere', '--to', '@s3', option, value];
    const text = here.run(args);
    expect(text.code).toBe(1);
    expect(text.out).toMatch(new RegExp(`^# ${words} after \\d+ states: no plan yet, and no plan still to come takes fewer than \\d+ ticks\n$`)); // prettier-ignore
    const json = JSON.parse(here.run([...args, '--format', 'json']).out) as {
      exhausted: boolean;
      stopped: string;
      bound: number;
    };
    expect(json).toMatchObject({ exhausted: false, stopped });
    expect(json.bound).toBeGreaterThan(0);
  });

  test('Ctrl-C ends a search with what was found', async () => {
    const scope = scopeOfNote(ring(26));
    const { log } = knownOf(scope);
    const finder = new Finder(scope, {
      from: log.starts,
      to: { kind: 'spot', spot: log.spot('s3') },
      by: 'ticks',
      best: 1,
      likely: false,
    });
    const before = process.listenerCount('SIGINT');
    // The signal comes once the search is under way.
    const run = finder.run.bind(finder);
    finder.run = function* () {
      let steps = 0;
      for (const _ of run()) {
        if (++steps === 10) process.emit('SIGINT');
        yield;
      }
    };
    expect(await drive(finder, { seconds: 1_000, memory: 1_000_000 })).toBe('interrupt');
    expect(finder.findings.explored).toBeGreaterThan(0);
    expect(finder.findings.exhausted).toBe(false);
    expect(process.listenerCount('SIGINT')).toBe(before);
  });
});
