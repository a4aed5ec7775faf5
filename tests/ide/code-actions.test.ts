import { describe, expect, test } from 'vitest';
import { type CodeAction, codeActions, fixAll } from '@core/ide/code-actions.js';
import { bodiesOf } from '@core/rules/bodies.js';
import { Resolver } from '@core/model/resolve.js';
import { loadProgram } from '@core/model/program.js';
import { scopeOf } from '@core/model/scope.js';
import { parse } from '@core/syntax/parse.js';
import { applyEdits } from '@core/text/edit.js';
import { buildTimeline } from '@core/timeline/build.js';
import { analysed } from './at.js';

interface Offered {
  readonly actions: readonly CodeAction[];
  readonly texts: ReadonlyMap<string, string>;
}

/** The actions for what stands between `‹` and `›`, or at `‹›`. */
function offered(marked: string): Offered {
  const text = marked.replace(/[‹›]/g, '');
  const { analysis, texts } = analysed(text);
  const actions = codeActions(analysis, 'note.tiptoe', marked.indexOf('‹'), marked.indexOf('›') - 1); // prettier-ignore
  return { actions, texts };
}

/** Takes the one action whose title begins so, and compares the text of its file. */
function check(marked: string, title: string, expected: string): void {
  const { actions, texts } = offered(marked);
  const found = actions.filter((each) => each.title.startsWith(title));
  expect(actions.map((each) => each.title)).toContain(found[0]?.title ?? title);
  expect(found).toHaveLength(1);
  const [action] = found;
  if (action === undefined) return;
  const before = texts.get(action.path) ?? '';
  const after = applyEdits(before, action.edits);
  expect(after).toBe(expected);
  expect(comments(after).length).toBeGreaterThanOrEqual(comments(before).length);
  // A silence may get one rule more; any other comment stays as it is.
  for (const comment of comments(before)) {
    if (!comment.startsWith('# tiptoe:')) expect(comments(after)).toContain(comment);
  }
  if (action.safety === 'safe') {
    expect(tables(new Map(texts).set(action.path, after))).toEqual(tables(texts));
  }
}

/** None of the actions begins so. */
function lacks(marked: string, ...titles: readonly string[]): void {
  const all = offered(marked).actions.map((each) => each.title);
  for (const title of titles) expect(all.filter((each) => each.startsWith(title))).toEqual([]);
}

function comments(text: string): string[] {
  return parse(text).units.flatMap(({ unit }) =>
    unit.comments.map((each) => unit.text.slice(each.start, each.end).trim()),
  );
}

/** What each route and rescue of the note holds on every tick, and what it claims. */
function tables(texts: ReadonlyMap<string, string>): string[] {
  const program = loadProgram(['note.tiptoe'], (path) => ({ text: texts.get(path) ?? '' }));
  const file = program.files.get('note.tiptoe');
  if (file === undefined) throw new Error('no note');
  const scope = scopeOf(program, file);
  const found: string[] = [];
  for (const { unit } of file.tree.units) {
    if (unit.declaration.kind !== 'route' && unit.declaration.kind !== 'rescue') continue;
    for (const body of bodiesOf(unit.declaration)) {
      const timeline = buildTimeline(new Resolver(scope).resolve(body, unit), scope.game);
      if ('tooLong' in timeline) throw new Error('too long');
      let table = '';
      for (let tick = 0; tick < timeline.ticks; tick++) {
        const run = timeline.at(tick);
        table += `${run?.held ?? ''}${run?.pause === true ? 'p' : ''}${run?.runs === true ? '' : '!'} `;
      }
      found.push(`${table}${(unit.text.match(/@\w+/g) ?? []).join(' ')}`);
    }
  }
  return found;
}

const USE = 'use "log.tiptoe"\n';

describe('fixes', () => {
  test('each with how safe it is', () => {
    check(`${USE}let a = U‹›1 R`, 'Write U', `${USE}let a = U R`);
    const { actions } = offered(`${USE}let a = D2‹›10ms`);
    expect(actions.filter(({ kind }) => kind === 'fix').map(({ title, safety }) => `${title} ${safety}`)).toEqual(['Write D10 suggestion', 'Write D11 suggestion']); // prettier-ignore
  });
  test('does not apply elsewhere', () => {
    lacks(`${USE}let a = U1 R‹›`, 'Write U');
    lacks(`${USE}let a = U1 R\nlet b = D‹›`, 'Write U');
  });
  test('all that are safe, and what is left', () => {
    const text = `${USE}route a { U1 R1*1 D210ms }\nlet b = D1\n`;
    const { analysis } = analysed(text);
    const all = fixAll(analysis, 'note.tiptoe');
    expect(applyEdits(text, all?.edits ?? [])).toBe(`${USE}route a { U R D210ms }\nlet b = D\n`);
    expect(all?.applied).toBe(4);
    expect(all?.left.map(({ rule }) => rule)).toContain('partial-frame');
    expect(all?.title).toMatch(/^Mend 4 findings whose fix is safe; \d+ left to you, .*1 with a choice of fixes/); // prettier-ignore
    expect(all?.edits.length).toBe(2);
    expect(fixAll(analysis, 'none.tiptoe')).toBeUndefined();
  });
  test('all of a note without findings: nothing', () => {
    const { analysis } = analysed('use "game.tiptoe"\nroute a { U }\n');
    expect(fixAll(analysis, 'note.tiptoe')).toMatchObject({ edits: [], applied: 0, left: [] });
  });
});

describe('silences', () => {
  test('at the end of the line, with the reason to be written', () => {
    const text = `${USE}let a = U‹›1 R\nroute r { a }`;
    check(text, 'Allow count-form', `${USE}let a = U1 R  # tiptoe: allow count-form because reason\nroute r { a }`); // prettier-ignore
    const action = offered(text).actions.find(({ kind }) => kind === 'silence');
    const after = applyEdits(text.replace(/[‹›]/g, ''), action?.edits ?? []);
    expect(after.slice(action?.placeholder?.start, action?.placeholder?.end)).toBe('reason');
  });
  test('beside a comment a line of its own, in a silence one name more', () => {
    check(`${USE}let a =\n  U‹›1 # why\nroute r { a }`, 'Allow count-form', `${USE}let a =\n  # tiptoe: allow count-form because reason\n  U1 # why\nroute r { a }`); // prettier-ignore
    check(`${USE}let a = U‹›1 # tiptoe: allow pinch because so\nroute r { a }`, 'Allow count-form too', `${USE}let a = U1 # tiptoe: allow pinch, count-form because so\nroute r { a }`); // prettier-ignore
  });
  test('take the finding away', () => {
    const text = `${USE}route r { U‹›1 }`;
    const action = offered(text).actions.find(({ kind }) => kind === 'silence');
    const { analysis } = analysed(applyEdits(text.replace(/[‹›]/g, ''), action?.edits ?? []));
    const file = analysis.file('note.tiptoe');
    expect(file && analysis.findings(file)).toEqual([]);
  });
  test('does not apply to what no silence reaches', () => {
    lacks(`${USE}let a = U )‹›`, 'Allow');
    lacks(`${USE}route r { U } ‹› # tiptoe: allow pinch because so`, 'Allow unused-silence');
  });
});

describe('the missing row', () => {
  const route = (body: string): string => `${USE}route a from @reed {\n  ${body}\n}\n`;
  const row = (marked: string): string | undefined => {
    const { actions, texts } = offered(marked);
    const found = actions.find(({ kind }) => kind === 'row');
    if (found === undefined) return undefined;
    const after = applyEdits(texts.get(found.path) ?? '', found.edits);
    const line = after.split('\n').find((each) => !(texts.get(found.path) ?? '').includes(each));
    const { placeholder } = found;
    const open = placeholder === undefined ? '' : ` to write: ${after.slice(placeholder.start, placeholder.end)}`; // prettier-ignore
    return `${found.path}: ${line ?? ''}${open}`;
  };
  test('goes into the log, with the claim behind the item as its landing', () => {
    expect(row(route('‹›J @tern'))).toBe('log.tiptoe:   @reed : J -> @tern');
  });
  test('without a claim the landing is to be written', () => {
    expect(row(route('‹›J'))).toBe('log.tiptoe:   @reed : J -> @spot to write: spot');
    expect(row(route('‹›J3-R2 @past'))).toBe('log.tiptoe:   @reed : J3-R2 -> @past');
    expect(row(route('‹›J*3 @past'))).toBe('log.tiptoe:   @reed : J -> @spot to write: spot');
  });
  test('makes a log where there is none', () => {
    const text = 'use "game.tiptoe"\nspot @a\n# Over.\nroute b from @a { ‹›J }\n';
    const { actions } = offered(text.replace('spot @a', 'ground g within (0, 0) to (9, 9) { U by (0, 1) }\nspot @a at (1, 1)')); // prettier-ignore
    const found = actions.find(({ kind }) => kind === 'row');
    const plain = text.replace('spot @a', 'ground g within (0, 0) to (9, 9) { U by (0, 1) }\nspot @a at (1, 1)').replace(/[‹›]/g, ''); // prettier-ignore
    expect(applyEdits(plain, found?.edits ?? [])).toContain('(1, 1)\nseen {\n  @a : J -> @spot\n}\n\n# Over.\nroute b'); // prettier-ignore
  });
  test('does not apply where the log says it, or nobody knows the start', () => {
    expect(row(route('‹›U'))).toBeUndefined();
    expect(row(route('J ‹›J'))).toBeUndefined();
    expect(row('use "log.tiptoe"\nroute a { ‹›J }')).toBeUndefined();
  });
});

describe('extract a phrase', () => {
  test('of the selected items, in front of the declaration and its comments', () => {
    check(`${USE}# Over.\nroute a {\n  U ‹R D› J\n}`, 'Make a phrase of R D', `${USE}let part = R D\n\n# Over.\nroute a {\n  U part J\n}`); // prettier-ignore
  });
  test('with its comments, its notes, and in the pace that is in force', () => {
    check(`${USE}route a {\n  ‹R # right\n  D› "n"\n}`, 'Make a phrase', `${USE}let part = R # right\n  D\n\nroute a {\n  part "n"\n}`); // prettier-ignore
    check(`${USE}route a { pace .2 U ‹R D› J }`, 'Make a phrase', `${USE}let part = R D\n\nroute a { pace .2 U part J }`); // prettier-ignore
    check(`${USE}route a { U-‹R D› J }`, 'Make a phrase', `${USE}let part = R D\n\nroute a { U-part J }`); // prettier-ignore
    check(`${USE}let part = U\nroute a { (‹R*3› J)*2 }`, 'Make a phrase', `${USE}let part = U\nlet part2 = R*3\n\nroute a { (part2 J)*2 }`); // prettier-ignore
    check(`${USE}route a { choose b { c { U } d { ‹R D› } } }`, 'Make a phrase', `${USE}let part = R D\n\nroute a { choose b { c { U } d { part } } }`); // prettier-ignore
  });
  test('says where its name stands', () => {
    const text = `${USE}route a { ‹R D› }`;
    const action = offered(text).actions.find(({ kind }) => kind === 'extract');
    const after = applyEdits(text.replace(/[‹›]/g, ''), action?.edits ?? []);
    expect(after.slice(action?.placeholder?.start, action?.placeholder?.end)).toBe('part');
  });
  test('does not apply to half an item, a pace, a part of a window, a phrase or a cursor', () => {
    lacks(`${USE}route a { U R‹2 D› }`, 'Make a phrase');
    lacks(`${USE}route a { ‹U R›3 }`, 'Make a phrase');
    lacks(`${USE}route a { ‹pace .2 U› }`, 'Make a phrase');
    lacks(`${USE}route a { [U1-‹R1›] }`, 'Make a phrase');
    lacks(`${USE}route a { ‹D0›-[U1] }`, 'Make a phrase');
    lacks(`${USE}route a { ‹shuffle› }`, 'Make a phrase');
    lacks(`${USE}route a { U‹› }`, 'Make a phrase');
    lacks(`${USE}route a { U (R ‹D) J› }`, 'Make a phrase');
    lacks(`${USE}spot @a‹ "b"›`, 'Make a phrase');
  });
});

describe('inline a phrase', () => {
  test('its items in its place, in brackets where it is repeated', () => {
    check(`${USE}route a { U shu‹›ffle J }`, 'Write shuffle out', `${USE}route a { U R U U J }`);
    check(`${USE}route a { shu‹›ffle*2 J }`, 'Write shuffle out', `${USE}route a { (R U U)*2 J }`);
    check(`${USE}let b = R2\nroute a { b‹›*2-J }`, 'Write b out', `${USE}let b = R2\nroute a { R2*2-J }`); // prettier-ignore
    check(`${USE}let b = pace .2 R U\nroute a { b‹› J D }`, 'Write b out', `${USE}let b = pace .2 R U\nroute a { (pace .2 R U) J D }`); // prettier-ignore
    check(`${USE}let b = R # right\n  U\nroute a { b‹› "n" }`, 'Write b out', `${USE}let b = R # right\n  U\nroute a { R # right\n  U "n" }`); // prettier-ignore
  });
  test('does not apply to what is no phrase, or none that is known', () => {
    lacks(`${USE}route a { U‹› }`, 'Write U out');
    lacks(`${USE}route a { no‹›ne }`, 'Write none out');
    lacks(`${USE}let b = U b‹›`, 'Write b out');
  });
});

describe('repeats', () => {
  test('items that come again as *n', () => {
    check(`${USE}route a { U R R‹› R J }`, 'Write R*3', `${USE}route a { U R*3 J }`);
    check(`${USE}route a { ‹R D R D› J }`, 'Write (R D)*2', `${USE}route a { (R D)*2 J }`);
    check(`${USE}route a { [U1] ‹›[U1] @tern }`, 'Write [U1]*2', `${USE}route a { [U1]*2 @tern }`);
  });
  test('and back', () => {
    check(
      `${USE}route a { U R*3‹› @tern J }`,
      'Write R*3 out',
      `${USE}route a { U R R R @tern J }`,
    );
    check(`${USE}route a { (R D)*2‹› J }`, 'Write (R D)*2 out', `${USE}route a { R D R D J }`); // prettier-ignore
    check(`${USE}route a { (pace .2 R D)*2‹› J }`, 'Write (pace', `${USE}route a { (pace .2 R D) (pace .2 R D) J }`); // prettier-ignore
    check(`${USE}route a { [U1 R1*2‹›] J }`, 'Write R1*2 out', `${USE}route a { [U1 R1 R1] J }`);
  });
  test('does not apply to joined ones, to those with marks or comments between, or open ends', () => {
    lacks(`${USE}route a { R-R‹› }`, 'Write R*2');
    lacks(`${USE}route a { R @tern R‹› }`, 'Write R*2');
    lacks(`${USE}route a { R # one\n R‹› }`, 'Write R*2');
    lacks(`${USE}route a { ‹R D R› }`, 'Write (R');
    lacks(`${USE}route a { .2 .2‹› }`, 'Write (.2');
    lacks(`${USE}route a { R*2+‹› until @tern }`, 'Write R*2+');
    lacks(`${USE}route a { R*2..3‹› }`, 'Write R*2..3');
    lacks(`${USE}route a { R*900‹› }`, 'Write R*900');
    lacks(`${USE}route a { (R # why\n)*2‹› }`, 'Write (R');
  });
});

describe('join and split', () => {
  test('waits and presses into one, waits apart', () => {
    check(`${USE}route a { U .2 .‹›3 J }`, 'Join into .5', `${USE}route a { U .5 J }`);
    check(`${USE}route a { D2-D‹›3 J }`, 'Join into D5', `${USE}route a { D5 J }`);
    check(`${USE}route a { U .‹›5 J }`, 'Split into .1 .4', `${USE}route a { U .1 .4 J }`);
  });
  test('with a dash and without, which changes timing', () => {
    check(`${USE}route a { D3 ‹›R J }`, 'Join R to', `${USE}route a { D3-R J }`);
    check(`${USE}route a { D3-‹›R J }`, 'Split R from', `${USE}route a { D3 R J }`);
    check(`${USE}route a { ‹D3 R› J }`, 'Join R to', `${USE}route a { D3-R J }`);
    const { actions } = offered(`${USE}route a { D3 ‹›R J }`);
    expect(actions.find(({ title }) => title.startsWith('Join R'))?.safety).toBe('changes-timing');
  });
  test('does not apply across marks, comments, waits and other inputs', () => {
    lacks(`${USE}route a { D3 @tern ‹›R }`, 'Join');
    lacks(`${USE}route a { D3 # so\n ‹›R }`, 'Join');
    lacks(`${USE}route a { D3 .‹›2 }`, 'Join');
    lacks(`${USE}route a { D2-R‹›3 }`, 'Join into');
    lacks(`${USE}route a { D2 D‹›3 }`, 'Join into');
    lacks(`${USE}route a { .2‹› }`, 'Join');
    lacks(`${USE}route a { .2..3‹› U }`, 'Split');
  });
});

describe('milliseconds as ticks', () => {
  test('where they come to a whole number', () => {
    check(`${USE}route a { D2‹›40ms }`, 'Write D12', `${USE}route a { D12 }`);
    check(`${USE}route a { U .4‹›00ms*2 }`, 'Write .20', `${USE}route a { U .20*2 }`);
    check(`${USE}route a { pace .4‹›0ms U R }`, 'Write .2', `${USE}route a { pace .2 U R }`);
  });
  test('does not apply to counts, or to what is no whole number', () => {
    lacks(`${USE}route a { D1‹›2 }`, 'Write D12');
    expect(offered(`${USE}route a { D2‹›50.5ms }`).actions.filter(({ kind }) => kind === 'rewrite')).toEqual([]); // prettier-ignore
    lacks('route a { D2‹›40ms }', 'Write D12', 'Write D14');
  });
});

describe('in other places', () => {
  test('nothing at all', () => {
    for (const text of ['‹›', 'spot @a‹›', 'use "ga‹›me.tiptoe"', 'game "F" { clo‹›ck 50 }']) {
      expect(offered(text).actions.filter(({ kind }) => kind !== 'fix' && kind !== 'silence')).toEqual([]); // prettier-ignore
    }
    const { analysis } = analysed('');
    expect(codeActions(analysis, 'none.tiptoe', 0, 0)).toEqual([]);
  });
  test('only the kinds that are asked for', () => {
    const { analysis } = analysed('use "game.tiptoe"\nroute a { U1 U1 }');
    const actions = codeActions(analysis, 'note.tiptoe', 30, 30, new Set(['rewrite']));
    expect(new Set(actions.map(({ kind }) => kind))).toEqual(new Set(['rewrite']));
  });
});
