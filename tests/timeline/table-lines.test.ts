import { describe, expect, test } from 'vitest';
import { loadProgram } from '@core/model/program.js';
import { Resolver } from '@core/model/resolve.js';
import { scopeOf } from '@core/model/scope.js';
import type { RepeatStep, Sequence } from '@core/model/steps.js';
import { buildTimeline } from '@core/timeline/build.js';
import { lineFinder, traceUses } from '@core/timeline/table-lines.js';

/** The sequence of the one route of `way.tiptoe`, and what finds its lines. */
function traced(files: Record<string, string>) {
  const program = loadProgram(['way.tiptoe'], (path) => {
    const text = files[path];
    return text === undefined ? { reason: 'not here' } : { text };
  });
  const file = program.files.get('way.tiptoe');
  if (file === undefined) throw new Error('way.tiptoe is missing');
  const scope = scopeOf(program, file);
  const [route] = scope.routes.values();
  if (route === undefined) throw new Error('way.tiptoe has no route');
  const sequence = new Resolver(scope).resolve(route.declaration.body, route.unit);
  const own = new Set(file.tree.units.map(({ unit }) => unit));
  return { sequence, ...rename(traceUses(sequence, own)), line: lineFinder(program, file), scope };
}

function rename({ sequence, original }: ReturnType<typeof traceUses>) {
  return { copy: sequence, original };
}

function lines({ copy, line, scope }: ReturnType<typeof traced>): (number | undefined)[] {
  const timeline = buildTimeline(copy, scope.game);
  if ('tooLong' in timeline) throw new Error('too long');
  return [...timeline.runs()].map(({ source }) => source && line(source));
}

function repeats({ steps }: Sequence): RepeatStep[] {
  return steps.flatMap((step) => {
    if (step.kind === 'repeat') return [step, ...repeats(step.body)];
    return step.kind === 'group' || step.kind === 'hold' ? repeats(step.body) : [];
  });
}

const GAME =
  'game "g" { clock 30 pace .1 inputs { D = y +1 J = jump } pause P { dwell 1 resume 1 } }\n';

describe('lines of what a sequence holds', () => {
  test('a sequence without phrases of other files comes back as it is', () => {
    const one = traced({ 'way.tiptoe': `${GAME}let hop = J*3\nroute way { hop D&(hop)*2 }` });
    expect(one.copy).toBe(one.sequence);
    expect(lines(one).slice(0, 3)).toEqual([2, undefined, 2]);
  });

  test('each use of a phrase of another file has its own, brackets and windows too', () => {
    const one = traced({
      'game.tiptoe': `${GAME}let dip = [J1 D1-J1]\nlet both = dip J&(dip)`,
      'way.tiptoe': 'use "game.tiptoe"\nroute way {\n  dip\n  both\n}',
    });
    const pause = 2 + 4 + 5 + 1; // `[` and its menu, two windows with theirs, `]`: in stretches.
    const found = lines(one).filter((line) => line !== undefined);
    expect(found).toEqual([...Array<number>(pause).fill(3), ...Array<number>(2 * pause).fill(4)]);
  });

  test('inside a phrase of the same file it is the line of the use there', () => {
    const one = traced({
      'game.tiptoe': `${GAME}let hop = J`,
      'way.tiptoe': 'use "game.tiptoe"\nlet twice =\n  hop\n  hop\n\nroute way { twice }',
    });
    expect(lines(one)).toEqual([3, undefined, 4]);
  });

  test('a repeat in such a phrase is known by the one that it was made from', () => {
    const one = traced({
      'game.tiptoe': `${GAME}let hop = J*3`,
      'way.tiptoe': 'use "game.tiptoe"\nroute way { hop D*2 hop }',
    });
    const before = repeats(one.sequence);
    const after = repeats(one.copy);
    expect(after.map((step) => step.lo)).toEqual([3, 2, 3]);
    expect(after.map(one.original)).toEqual(before);
    expect(after[0]).not.toBe(before[0]);
    expect(after[0]).not.toBe(after[2]);
  });

  test('phrases that double forty times stay as small as their text', () => {
    const lets = Array.from({ length: 40 }, (_, i) => `let p${i + 1} = p${i} p${i}`).join('\n');
    const one = traced({
      'game.tiptoe': `${GAME}let p0 = J\n${lets}`,
      'way.tiptoe': 'use "game.tiptoe"\nroute way {\n  p40\n  D }',
    });
    const timeline = buildTimeline(one.copy, one.scope.game);
    if ('tooLong' in timeline) throw new Error('too long');
    expect(timeline.ticks).toBe(2 * 2 ** 40 + 1);
    const run = timeline.at(2 * (2 ** 40 - 7));
    expect(run?.source && one.line(run.source)).toBe(3);
  });
});
