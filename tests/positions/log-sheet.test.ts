import { programOf } from '@core/model/program.js';
import { scopeOf } from '@core/model/scope.js';
import { mergeSightings } from '@core/positions/merge.js';
import { readSheet, SHEET_COLUMNS, type SheetOptions, type SheetProblem } from '@core/positions/sheet.js'; // prettier-ignore
import { parse } from '@core/syntax/parse.js';
import { format } from '@core/syntax/print.js';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';

const GAME = `game "Kiln Runner" {
  clock 60
  settle 6
  inputs {
    U = y -1   D = y +1   L = x -1   R = x +1
    J = jump
  }
  pause P { open 4  dwell 8  resume 1 }
}
`;
const LOG = `${GAME}
let hop = [R1]-J
spot @reed
spot @snag paused

seen {
  # The planks.
  @reed : U    -> @rush x3  # dry
  @reed : U    -> @mud
  @reed : [U1] -> @tern x9

  @rush : U2 .9 -> @reed x2
}
`;

function opened(text: string) {
  const program = programOf(text);
  const [file] = program.files.values();
  if (file === undefined) throw new Error('the note is there');
  return { tree: file.tree, scope: scopeOf(program, file) };
}

const record = (cells: readonly string[], k: number) => ({ line: k + 1, cells });
const sheetOf = (lines: readonly (readonly string[])[]) => [SHEET_COLUMNS, ...lines].map(record);

function readIn(text: string, lines: readonly (readonly string[])[], options?: SheetOptions) {
  const { scope } = opened(text);
  return readSheet(sheetOf(lines), scope, options);
}

/** The note after a sheet without a mistake. */
function merged(text: string, ...lines: string[][]): string {
  const { tree, scope } = opened(text);
  const { sightings, problems } = readSheet(sheetOf(lines), scope, { newSpots: true });
  expect(problems).toEqual([]);
  return mergeSightings(tree, scope, sightings).text;
}

/** The lines that differ, as a diff shows them. */
function changes(before: string, after: string): string[] {
  const old = before.split('\n');
  const now = after.split('\n');
  return [
    ...old.filter((line) => !now.includes(line)).map((line) => `-${line}`),
    ...now.filter((line) => !old.includes(line)).map((line) => `+${line}`),
  ];
}

describe('a row that is there', () => {
  test.each([
    ['counts on', ['reed', 'U', 'rush', '2', ''], '  @reed : U    -> @rush x5  # dry'],
    ['with an @ in the sheet', ['@reed', 'U', '@rush', '2', ''], '  @reed : U    -> @rush x5  # dry'],
    ['with x in front of the count', ['reed', 'U', 'rush', 'x97', ''], '  @reed : U    -> @rush x100  # dry'],
    ['once, where no count is given', ['reed', 'U', 'rush', '', ' '], '  @reed : U    -> @rush x4  # dry'],
    ['written with its count', ['reed', 'U1', 'rush', '1', ''], '  @reed : U    -> @rush x4  # dry'],
    ['written in a group', ['reed', '(U)*1', 'rush', '1', ''], '  @reed : U    -> @rush x4  # dry'],
    ['with blanks around', [' reed ', ' [ U1 ] ', 'tern', ' 1 ', ''], '  @reed : [U1] -> @tern x10'],
    ['that had no count', ['reed', 'U', 'mud', '2', ''], '  @reed : U    -> @mud  x3'],
    ['with its note', ['reed', '[U1]', 'tern', '1', 'late'], '  @reed : [U1] -> @tern x10 # late'],
    ['with its note behind another', ['reed', 'U', 'rush', '1', 'late'], '  @reed : U    -> @rush x4  # dry; late'],
    ['with a note that is there', ['reed', 'U', 'rush', '1', 'dry'], '  @reed : U    -> @rush x4  # dry'],
  ])('%s', (_, cells, line) => {
    const before = format(parse(LOG));
    const after = merged(before, cells);
    const normal = (text: string) => text.replace(/ +#/, ' #');
    const found = changes(before, after);
    expect(found.filter((each) => each.startsWith('+')).map(normal)).toEqual([normal(`+${line}`)]);
    expect(found).toHaveLength(2);
    expect(format(parse(after))).toBe(after);
  }); // prettier-ignore

  test('is the first of several that say the same', () => {
    const text = LOG.replace('# The planks.', '@reed : U -> @rush x7');
    expect(merged(text, ['reed', 'U', 'rush', '1', ''])).toContain('@reed : U -> @rush x8');
  });

  test('is not one with a range, another spacing or a mistake that only looks alike', () => {
    for (const row of ['U1..2', 'U .9', 'U~']) {
      const text = LOG.replace('@reed : U    -> @rush x3', `@reed : ${row} -> @rush x3`);
      const after = merged(text, ['reed', 'U', 'rush', '1', '']);
      expect(after).toContain(`@reed : ${row} -> @rush x3`);
      expect(after).toMatch(/@reed : U +-> @rush x1\n\}/);
    }
  });

  test('keeps what follows it on its line when a note comes between', () => {
    const text = `${GAME}seen { @a : U -> @b  @b : D -> @a }\n`;
    const after = merged(text, ['a', 'U', 'b', '1', 'slow'], ['b', 'D', 'a', '4', 'fast']);
    const rows = parse(after).units.flatMap(({ unit }) =>
      unit.declaration.kind === 'seen' ? unit.declaration.rows : [],
    );
    expect(rows.map((row) => [row.from.name, row.to?.name, row.count])).toEqual([
      ['a', 'b', 2],
      ['b', 'a', 5],
    ]);
    expect(after).toMatch(/# slow\n[^]*# fast\n/);
  });
});

describe('a new row', () => {
  test('stands at the end of the last block, in its columns', () => {
    const text = format(parse(LOG)).replace('seen {', 'seen {\n  @x : D -> @x\n}\nseen {');
    const after = merged(text, ['rush', '[D1]', 'reed', '3', 'twice, late']);
    expect(changes(text, after)).toEqual(['+  @rush : [D1]  -> @reed x3  # twice, late']);
    expect(after.endsWith('@rush : [D1]  -> @reed x3  # twice, late\n}\n')).toBe(true);
    expect(format(parse(after))).toBe(after);
  });

  test('follows the columns of a block that has a layout of its own', () => {
    const text = `${GAME}seen {\n\t@reed:    U    ->    @rush    x3\n\t@rush:    D    ->    @reed    x12 # back\n}\n`;
    expect(merged(text, ['reed', 'D2', 'mud', '1', ''])).toBe(
      text.replace('# back\n', '# back\n\t@reed :   D2   ->    @mud     x1\n'),
    );
  });

  test.each([
    ['an empty block', 'seen {}\n', 'seen {\n  @a : U -> @b x1\n}\n'],
    ['a block that holds a comment', 'seen {\n  # none yet {\n}\n', 'seen {\n  # none yet {\n  @a : U -> @b x1\n}\n'],
    ['a comment before the brace', 'seen # log {\n{\n}\n', 'seen # log {\n{\n  @a : U -> @b x1\n}\n'],
    ['a block on one line', 'seen { @b : D -> @a }\n', 'seen {\n  @b : D -> @a\n  @a : U -> @b x1\n}\n'],
    ['comments at the end of a block', 'seen {\n  @b : D -> @a\n  # so far\n}\n# end\n', 'seen {\n  @b : D -> @a\n  # so far\n  @a : U -> @b x1\n}\n# end\n'],
    ['no block', 'spot @a\n', 'spot @a\n\nseen {\n  @a : U -> @b x1\n}\n'],
    ['no block and no last line end', 'spot @a', 'spot @a\n\nseen {\n  @a : U -> @b x1\n}\n'],
    ['no block and a comment at the end', 'spot @a\n# end\n', 'spot @a\n# end\n\nseen {\n  @a : U -> @b x1\n}\n'],
  ])('in %s', (_, note, wanted) => {
    const after = merged(GAME + note, ['a', 'U', 'b', '1', '']);
    expect(after.replace(GAME, '').replace(/^seen # log \{\n */, 'seen # log {\n')).toBe(wanted);
  }); // prettier-ignore

  test('keeps line ends as the file has them', () => {
    const text = LOG.replaceAll('\n', '\r\n');
    const after = merged(text, ['reed', 'U', 'rush', '2', ''], ['mud', 'U', 'mud', '1', 'soft']);
    expect(after.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
    expect(after).toContain('x2\r\n  @mud  : U');
    expect(after.length - text.length).toBeGreaterThan(20);
  });

  test('sums up lines of a sheet that say the same', () => {
    const after = merged(LOG, ['mud', 'UL', 'mud', '2', 'a'], ['mud', 'LU1', 'mud', '3', 'b'], ['mud', 'UL', 'mud', '1', 'a']); // prettier-ignore
    expect(after).toMatch(/@mud +: UL +-> @mud +x6 +# a; b\n/);
  });

  test('takes a note as one comment that orders nothing', () => {
    const note = 'tiptoe: allow unsettled\r\n}\nseen { @a : U -> @b }\u0007';
    const after = merged(LOG, ['mud', 'L', 'mud', '1', note]);
    expect(after).toContain('# note: tiptoe: allow unsettled } seen { @a : U -> @b }\n');
    expect(parse(after).units).toHaveLength(parse(LOG).units.length);
  });
});

describe('a line that cannot be read', () => {
  const why = (problem: SheetProblem | undefined): string =>
    problem?.code === 'items'
      ? problem.problem.why === 'rule'
        ? problem.problem.rule
        : problem.problem.why
      : (problem?.code ?? 'none');

  test.each([
    ['no spot', ['', 'U', 'rush', '1', ''], 'empty'],
    ['no items', ['reed', '', 'rush', '1', ''], 'empty'],
    ['a count without a landing', ['reed', 'U', '', '3', ''], 'empty'],
    ['an unknown landing', ['reed', 'U', 'rsh', '1', ''], 'new-spot'],
    ['an unknown spot', ['red', 'U', 'rush', '1', ''], 'new-spot'],
    ['a name that is none', ['reed', 'U', 'the mud', '1', ''], 'spot'],
    ['a row in the landing', ['reed', 'U', 'mud x3 @reed : D -> @mud', '1', ''], 'spot'],
    ['an endless name', ['reed', 'U', 'a'.repeat(101), '1', ''], 'spot'],
    ['a count of 0', ['reed', 'U', 'rush', '0', ''], 'count'],
    ['a count below 0', ['reed', 'U', 'rush', '-1', ''], 'count'],
    ['a count with decimals', ['reed', 'U', 'rush', '1.5', ''], 'count'],
    ['a count with an exponent', ['reed', 'U', 'rush', '1e3', ''], 'count'],
    ['a count that is a word', ['reed', 'U', 'rush', 'twice', ''], 'count'],
    ['a count past all measure', ['reed', 'U', 'rush', '9'.repeat(16), ''], 'count'],
    ['an input that the game lacks', ['reed', 'Q', 'rush', '1', ''], 'undeclared-input'],
    ['the pause input', ['reed', 'P', 'rush', '1', ''], 'bare-pause'],
    ['an input twice', ['reed', 'UU', 'rush', '1', ''], 'duplicate-name'],
    ['an unknown phrase', ['reed', 'hup', 'rush', '1', ''], 'unknown-name'],
    ['zero frames', ['reed', 'U0', 'rush', '1', ''], 'zero-frames'],
    ['a part of a frame', ['reed', 'U10ms', 'rush', '1', ''], 'partial-frame'],
    ['a pause in a pause', ['reed', '[[U1]]', 'rush', '1', ''], 'nested-pause'],
    ['a bracket too few', ['reed', '[U1', 'rush', '1', ''], 'unclosed-pause'],
    ['a bracket too many', ['reed', 'U1]', 'rush', '1', ''], 'stray-closer'],
    ['a window that no pause allows', ['reed', '[U0]', 'rush', '1', ''], 'pause'],
    ['a window too short inside a pause', ['snag', '[U0]', 'rush', '1', ''], 'pause'],
    ['the end of the row', ['reed', 'U -> @rush x2 @reed : D', 'rush', '1', ''], 'not-items'],
    ['the end of the block', ['reed', 'U -> @rush } seen { @reed : D', 'rush', '1', ''], 'not-items'],
    ['a comment', ['reed', 'U # why', 'rush', '1', ''], 'not-items'],
    ['a comment on its second line', ['reed', 'U\n# why', 'rush', '1', ''], 'not-items'],
    ['a note', ['reed', 'U "gently"', 'rush', '1', ''], 'not-items'],
    ['a claim', ['reed', 'U @rush', 'rush', '1', ''], 'not-items'],
    ['only a pace', ['reed', 'pace .2', 'rush', '1', ''], 'not-items'],
    ['nothing, inside a pause', ['snag', '[]', 'snag', '1', ''], 'not-items'],
    ['a choice', ['reed', 'choose way { a { U } b { D } }', 'rush', '1', ''], 'choose-misplaced'],
    ['more than a row can have', ['reed', 'U*2000', 'rush', '1', ''], 'too-long'],
    ['more than numbers can count', ['reed', 'U*1000000000000000000', 'rush', '1', ''], 'count-too-large'],
    ['brackets past the limit', ['reed', `${'('.repeat(5000)}U${')'.repeat(5000)}`, 'rush', '1', ''], 'nested-too-deep'],
    ['a NUL', ['reed', 'U\u0000', 'rush', '1', ''], 'stray-text'],
    ['a cell too few', ['reed', 'U', 'rush', '1'], 'cells'],
    ['a cell too many', ['reed', 'U', 'rush', '1', '', ''], 'cells'],
  ])('because of %s', (_, cells, code) => {
    const { sightings, problems } = readIn(LOG, [cells, ['reed', 'U', 'rush', '1', '']]);
    expect(problems.map(why)).toEqual([code]);
    expect(problems.map(({ line }) => line)).toEqual([2]);
    expect(sightings.map(({ line }) => line)).toEqual([3]);
  }); // prettier-ignore

  test('of an unknown spot names the near one, and is taken as new where that is asked for', () => {
    const [problem] = readIn(LOG, [['reed', 'U', 'rsh', '1', '']]).problems;
    expect(problem).toEqual({ code: 'new-spot', line: 2, column: 'landing', name: 'rsh', near: 'rush' }); // prettier-ignore
    const read = readIn(LOG, [['reed', 'U', 'rsh', '1', '']], { newSpots: true });
    expect(read.problems).toEqual([]);
    expect(read.sightings).toHaveLength(1);
  });

  test.each([
    ['an empty sheet', [], 'missing', 'spot'],
    ['a header without a column', [['spot', 'items', 'count', 'notes']], 'missing', 'landing'],
    ['a strange column', [['spot', 'items', 'landing', 'cont', 'notes']], 'unknown', 'cont'],
    ['a column twice', [['spot', 'items', 'landing', 'count', 'spot']], 'twice', 'spot'],
    ['no header', [['reed', 'U', 'rush', '1', '']], 'unknown', 'reed'],
    ['a blank column', [['spot', 'items', 'landing', 'count', '']], 'unknown', ''],
  ])('is the header of %s', (_, lines, reason, column) => {
    const { scope } = opened(LOG);
    const read = readSheet(lines.map(record), scope);
    expect(read.problems).toMatchObject([{ code: 'columns', reason, column }]);
    expect(read.sightings).toEqual([]);
  });

  test('is none of those that were not filled in', () => {
    const read = readIn(LOG, [
      ['reed', 'U', '', '', ''],
      ['reed', '[', ' ', '', 'too hard'],
      [''],
      ['', '', '', '', ''],
      ['reed', 'D', 'mud', '', ''],
    ]);
    expect(read).toMatchObject({ problems: [], empty: 3, noted: 1 });
    expect(read.sightings.map(({ line, count }) => [line, count])).toEqual([[6, 1]]);
  });

  test('takes the columns in any order, without notes, in capitals', () => {
    const { scope } = opened(LOG);
    const lines = [
      ['Count', 'LANDING', 'items', 'Spot'],
      ['2', 'mud', 'L3', 'reed'],
    ];
    const { sightings, problems } = readSheet(lines.map(record), scope);
    expect(problems).toEqual([]);
    expect(sightings).toMatchObject([{ from: 'reed', items: 'L3', to: 'mud', count: 2, note: '' }]);
  });

  test('is one whose sum is beyond exact numbers, and the row keeps its count', () => {
    const text = LOG.replace('x3', 'x9007199254740990');
    const { tree, scope } = opened(text);
    const lines = [['reed', 'U', 'rush', '2', ''], ['reed', 'U', 'mud', '1', '']]; // prettier-ignore
    const read = readSheet(sheetOf(lines), scope);
    const result = mergeSightings(tree, scope, read.sightings);
    expect(result.problems).toEqual([{ code: 'too-many', line: 2, from: 'reed', to: 'rush' }]);
    expect(result).toMatchObject({ raised: 1, added: 0 });
    expect(result.text).toContain('x9007199254740990');
  });
});

describe('random logs and sheets', () => {
  const spot = fc.constantFrom('reed', 'rush', 'mud', 'snag', 'new1');
  const moves = ['U', 'U1', 'UL', 'LU', '[U1]', '[ U1 ]', 'D0-[]', '[R1]-J', 'hop', 'U2 .9', 'D D', 'D ~ D']; // prettier-ignore
  const move = fc.constantFrom(...moves);
  const words = fc.constantFrom(
    '',
    '',
    'late',
    'one, two',
    'a "quote"',
    'x3 # }',
    'tiptoe: allow x',
  );
  const comment = fc.constantFrom('', '', '', '  # kept', ' # x9');
  const end = fc.constantFrom('\n', '\n\n', '\n  # between\n');
  const row = fc
    .tuple(spot, move, spot, fc.option(fc.integer({ min: 1, max: 30 })), comment, end)
    .map(([from, items, to, n, behind, after]) => {
      return `  @${from} : ${items} -> @${to}${n === null ? '' : ` x${n}`}${behind}${after}`;
    });
  const block = fc.array(row, { maxLength: 8 }).map((rows) => `seen {\n${rows.join('')}}\n`);
  const note = fc
    .tuple(
      fc.array(block, { maxLength: 3 }),
      fc.constantFrom('', '# last\n', 'route r from @reed { U }\n'),
    )
    .map(
      ([blocks, tail]) =>
        `${GAME}let hop = [R1]-J\nspot @snag paused\n\n${blocks.join('\n')}${tail}`,
    );
  const line = fc
    .tuple(spot, move, spot, fc.integer({ min: 1, max: 30 }), words)
    .map(([from, items, to, n, said]) => [from, items, to, String(n), said]);

  /** The counts of a log by what its rows mean, and its rows and comments in order. */
  function countsIn(text: string) {
    const { tree, scope } = opened(text);
    const sums = new Map<string, number>();
    const rows: string[] = [];
    const comments: string[] = [];
    let total = 0;
    for (const { unit } of tree.units) {
      expect(unit.problems).toEqual([]);
      for (const each of unit.comments) comments.push(unit.text.slice(each.start, each.end).trim());
      if (unit.declaration.kind !== 'seen') continue;
      for (const each of unit.declaration.rows) {
        const items = unit.text.slice(each.body[0]?.start, each.body.at(-1)?.end);
        const [same] = readSheet(sheetOf([[each.from.name, items, each.to?.name ?? '', '', '']]), scope, { newSpots: true }).sightings; // prettier-ignore
        const key = `${each.from.name} ${same?.ids.join(' ')} ${each.to?.name}`;
        sums.set(key, (sums.get(key) ?? 0) + each.count);
        rows.push(`${each.from.name} ${items} ${each.to?.name} ${each.count}`);
        total += each.count;
      }
    }
    return { sums, rows, comments, total };
  }

  test('lose nothing, add up, and keep order, comments and layout', () => {
    fc.assert(
      fc.property(note, fc.array(line, { maxLength: 10 }), fc.boolean(), (written, lines, tidy) => {
        const text = tidy ? format(parse(written)) : written;
        const before = countsIn(text);
        const after = merged(text, ...lines);
        const now = countsIn(after);
        expect(now.total).toBe(before.total + lines.reduce((sum, cells) => sum + Number(cells[3]), 0)); // prettier-ignore
        for (const [key, count] of before.sums) {
          expect(now.sums.get(key) ?? 0).toBeGreaterThanOrEqual(count);
        }
        // Each old row in its place and its order, its count no lower.
        before.rows.forEach((old, i) => {
          const [, what, count] = /^(.*) (\d+)$/.exec(old) ?? [];
          const [, same, raised] = /^(.*) (\d+)$/.exec(now.rows[i] ?? '') ?? [];
          expect(same).toBe(what);
          expect(Number(raised)).toBeGreaterThanOrEqual(Number(count));
        });
        let at = 0;
        for (const old of before.comments) {
          while (at < now.comments.length && now.comments[at]?.startsWith(old) !== true) at++;
          expect(at).toBeLessThan(now.comments.length);
          at++;
        }
        if (tidy) expect(format(parse(after))).toBe(after);
        expect(format(parse(format(parse(after))))).toBe(format(parse(after)));
      }),
      { numRuns: 300 },
    );
  });
});
