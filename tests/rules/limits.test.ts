import { describe, expect, test } from 'vitest';
import { programOf } from '@core/model/program.js';
import { checkerOf, checkFile } from '@core/rules/check.js';
import { parse, reparse } from '@core/syntax/parse.js';
import { LIMITS } from '@core/text/limits.js';
import { check, withGame } from './support.js';

const lines = (count: number, line: (k: number) => string) =>
  Array.from({ length: count }, (_, k) => line(k));
const counts = (text: string) => {
  const found = new Map<string, number>();
  for (const { rule } of check(text)) found.set(rule, (found.get(rule) ?? 0) + 1);
  return Object.fromEntries(found);
};

/** Each of these ends; what a walk without memory would cost is beyond any machine. */
describe('no note, however it is built, hangs or breaks the check', () => {
  test('phrases that double sixty times over', () => {
    const doubling = lines(60, (k) => `let a${k + 1} = a${k} a${k}`).join('\n');
    expect(counts(`let a0 = D .2 R\n${doubling}`)).toMatchObject({ unsettled: 1 });
    expect(counts(`let a0 = .0\n${doubling}`)).toMatchObject({ 'zero-frames': 1 });
  });

  test('holds, repeats and pauses inside one another', () => {
    const held = lines(60, (k) => `let a${k + 1} = U&(a${k} a${k}) (a${k} [R1])*9`).join('\n');
    expect(counts(`let a0 = D\n${held}`)['opposed-directions']).toBeGreaterThan(0);
    expect(counts(`let a = ${'(R .1 '.repeat(190)}D${')*2'.repeat(190)}`)).toHaveProperty(
      'unsettled',
    );
  });

  test.each(['up', 'down'])('a chain of 20,000 phrases, %s', (way) => {
    const chain = ['let h = D', ...lines(20_000, (k) => `let h${k} = h${k === 0 ? '' : k - 1}`)];
    const found = counts((way === 'up' ? chain : chain.reverse()).join('\n'));
    expect(Object.keys(found)).toEqual(['phrases-too-deep']);
  });

  test('a long phrase, used from everywhere', () => {
    const big = `let big = ${'D R .3 J '.repeat(2000)}`;
    const routes = lines(2000, (k) => `route r${k} { big }`).join('\n');
    expect(counts(`${big}\n${routes}\nroute r { ${'big '.repeat(20_000)} }`)).toEqual({
      unsettled: LIMITS.problemsPerDeclaration,
      'more-problems': 1,
    });
  });

  test('ways in ways, and many of them', () => {
    const open = lines(60, (k) => `choose c${k} { a { D R } b { R .1 `).join('');
    expect(counts(`route r { ${open} ${'} } '.repeat(60)} }`)).toHaveProperty('unsettled');
    const ways = lines(5000, (k) => `w${k} { D R }`).join(' ');
    expect(counts(`route r { choose a { ${ways} } }`)).toEqual({});
  });

  test('thousands of names that are nearly one another', () => {
    const lets = lines(3000, (k) => `let step${k} = sttep${k}`).join('\n');
    expect(counts(lets)).toEqual({ 'unknown-name': 3000 });
  });

  test('noise is listed up to the limit, the gravest first', () => {
    const found = check(`route r { ${'D1 X LR .2 J .1 J @foo '.repeat(3000)} }`);
    expect(found).toHaveLength(LIMITS.problemsPerDeclaration + 1);
    expect(found.filter(({ severity }) => severity === 'error').length).toBe(found.length);
  });
});

test('findings come by place, and never outside their file', () => {
  const text = withGame(`${'let hop = U .4 J X LR\n'.repeat(5)}# tiptoe: allow none`);
  const found = check(text);
  expect(found.length).toBeGreaterThan(10);
  for (const [k, { span }] of found.entries()) {
    expect(span.start).toBeGreaterThanOrEqual(found[k - 1]?.span.start ?? 0);
    expect(span.end).toBeLessThanOrEqual(text.length);
  }
});

test('a unit that was checked in a scope is answered from memory', () => {
  const program = programOf(withGame('let hop = U .4 J').replace('use "kiln.tiptoe"', ''));
  const [file] = program.files.values();
  const unit = file?.tree.units[0]?.unit;
  if (file === undefined || unit === undefined) throw new Error('the note has a unit');
  const checker = checkerOf(program, file);
  const first = checker.check(unit);
  expect(checker.check(unit)).toBe(first);
  expect(checkFile(program, file, undefined, checker)).toHaveLength(first.length);
});

test('a declaration that moves is found again at its new place', () => {
  const text = withGame('let hop = U .4 J');
  const moved = `# one line more\n${text}`;
  const edit = { span: { start: 0, end: 0 }, text: '# one line more\n' };
  expect(reparse(parse(text), edit).text).toBe(moved);
  const [before] = check(text);
  const [after] = check(moved);
  expect(after?.span.start).toBe((before?.span.start ?? 0) + edit.text.length);
});
