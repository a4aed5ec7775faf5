import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyFixes, chosenEdits, type FixLevel } from '@core/rules/fixes.js';
import { RULES } from '@core/rules/registry.js';
import { applyEdits } from '@core/text/edit.js';
import { parse } from '@core/syntax/parse.js';
import type { Finding } from '@core/text/finding.js';
import { buildTimeline } from '@core/timeline/build.js';
import { programOf } from '@core/model/program.js';
import { Resolver } from '@core/model/resolve.js';
import { scopeOf } from '@core/model/scope.js';
import { messyNote, tidyNote } from '../support/generate.js';
import { check, findingsOf, NOTE, withGame, WITHOUT_POSITIONS } from './support.js';

const checked = (text: string) => findingsOf(new Map([[NOTE, text]]), WITHOUT_POSITIONS);
const mended = (text: string, level: FixLevel = 'safe') =>
  applyFixes(withGame(text), checked, level).text.replace('\nuse "kiln.tiptoe"\n', '');

describe('fixes', () => {
  test.each([
    ['let hop = D3-D2', 'let hop = D5'],
    ['let hop = D-D-D', 'let hop = D3'],
    ['let hop = DR3-RD2 J', 'let hop = DR5 J'],
    ['let hop = D1..2-D3', 'let hop = D4..5'],
    ['let hop = D [R1-R1]', 'let hop = D [R2]'],
    ['let hop = D&(.4 DR2 .3)', 'let hop = D&(.4 R2 .3)'],
    ['let hop = D1 ~ .1 ~ J*1', 'let hop = D ~ . ~ J'],
    ['let hop = D-.8-R', 'let hop = D .8 R'],
    ['let hop = D - .8 - R', 'let hop = D  .8  R'],
    ['use "kiln.tiptoe"\nuse "./kiln.tiptoe"\nlet hop = D', 'use "kiln.tiptoe"\nlet hop = D'],
    ['use "kiln.tiptoe"  use "./kiln.tiptoe" let hop = D', 'use "kiln.tiptoe"   let hop = D'],
  ])('%s becomes %s', (before, after) => {
    expect(mended(before)).toBe(after);
  });

  test.each([
    ['a wait', 'let hop = U .4 J', 'let hop = U ~ J'],
    [
      'a dwell',
      'game "A" {\n  clock 60\n  inputs { D = y +1 }\n  pause P { open 6 dwell 4 }\n}\n',
      'game "A" {\n  clock 60\n  inputs { D = y +1 }\n  pause P { open 6 dwell 6 }\n}\n',
    ],
  ])('%s changes only where timing may change', (_, before, after) => {
    expect(mended(before)).toBe(before);
    expect(mended(before, 'changes-timing')).toBe(after);
  });

  test.each([
    'let hop = D3- # the first half\n  D2',
    'let hop = D3 # the first half\n  -D2',
    'let hop = U # stand\n  .4 # wait\n  J',
  ])('no comment is lost: %j', (text) => {
    expect(mended(text, 'changes-timing')).toBe(text);
  });

  test.each([
    'let hop = D3-D2 "let go late"',
    'let hop = (R D3)-D2',
    'let hop = D250ms-D2',
    'let hop = D&(.4 D2 .3)',
    'let hop = D3 "now"-D2',
  ])('what hangs on an item stays: %s', (text) => {
    const left = mended(text);
    for (const quoted of text.match(/"[^"]*"/g) ?? []) expect(left).toContain(quoted);
  });

  test('a suggestion is never applied by fix-all', () => {
    const text = 'let shuffle = R D\nlet hop = shufle D 4';
    expect(check(text).some(({ fixes }) => fixes.length > 0)).toBe(true);
    expect(mended(text, 'changes-timing')).toBe(text);
  });

  test('edits of one round never overlap', () => {
    const text = withGame(`let hop = ${'D-D-'.repeat(400)}D`);
    const { edits } = chosenEdits(text, checked(text), 'safe');
    expect(() => applyEdits(text, edits)).not.toThrow();
  });
});

function counted(findings: readonly Finding[], key: (finding: Finding) => string) {
  const counts = new Map<string, number>();
  for (const finding of findings) counts.set(key(finding), (counts.get(key(finding)) ?? 0) + 1);
  return counts;
}

// Places move when something in front of them is mended; what is said does not.
const said = ({ rule, params }: Finding) => rule + JSON.stringify(params);
const ruleOf = ({ rule }: Finding) => rule;

/** The note without what is followed through the log, which no fix is about. */
function withoutLog(note: string): string {
  return parse(note)
    .units.filter(({ unit: { declaration } }) => {
      if (declaration.kind === 'route') return declaration.from === undefined;
      return declaration.kind !== 'seen' && declaration.kind !== 'rescue';
    })
    .map(({ unit }) => (/[\r\n]$/.test(unit.text) ? unit.text : `${unit.text}\n`))
    .join('');
}

describe.each([
  ['notes with the least white space', tidyNote.map(withoutLog)],
  ['notes with any white space and comments', messyNote.map(withoutLog)],
])('in %s', (_, notes) => {
  test('a safe fix takes its finding away, adds none, and loses no comment', () => {
    let tried = 0;
    fc.assert(
      fc.property(notes, (note) => {
        const findings = checked(note);
        // Where not all are listed, one that goes makes room for another.
        fc.pre(!findings.some(({ rule }) => rule === 'more-problems'));
        const before = counted(findings, ruleOf);
        for (const finding of findings.slice(0, 20)) {
          const { edits, count } = chosenEdits(note, [finding], 'safe');
          if (count === 0) continue;
          tried++;
          const text = applyEdits(note, edits);
          const left = checked(text);
          const added = [...counted(left, ruleOf)].filter(
            ([rule, times]) => times > (before.get(rule) ?? 0),
          );
          const mine = said(finding);
          const gone = counted(findings, said).get(mine) ?? 0;
          const stays = counted(left, said).get(mine) ?? 0;
          expect({ text, mine, added, taken: stays < gone || left.length < findings.length }).toEqual({ text, mine, added: [], taken: true }); // prettier-ignore
          expect(text.split('#').length).toBe(note.split('#').length);
        }
      }),
      { numRuns: 60 },
    );
    expect(tried).toBeGreaterThan(50);
  });

  test('safe fixes leave the ticks of every route as they were', () => {
    let tried = 0;
    fc.assert(
      fc.property(notes, (note) => {
        const { text, applied } = applyFixes(note, checked, 'safe');
        if (applied === 0) return;
        tried++;
        expect(lengthsOf(text)).toEqual(lengthsOf(note));
      }),
      { numRuns: 60 },
    );
    expect(tried).toBeGreaterThan(30);
  });

  test('fixing twice is fixing once', () => {
    fc.assert(
      fc.property(notes, (note) => {
        const { text } = applyFixes(note, checked, 'changes-timing');
        expect(applyFixes(text, checked, 'changes-timing')).toMatchObject({ text, applied: 0 });
      }),
      { numRuns: 40 },
    );
  });
});

/** Ticks and frames of every route, and its first ticks one by one. */
function lengthsOf(note: string): unknown[] {
  const program = programOf(note);
  const [file] = program.files.values();
  if (file === undefined) return [];
  const scope = scopeOf(program, file);
  return file.tree.units.flatMap(({ unit }): unknown[] => {
    const { declaration } = unit;
    if (declaration.kind !== 'route') return [];
    const sequence = new Resolver(scope).resolve(declaration.body, unit);
    const timeline = buildTimeline(sequence, scope.game);
    if ('tooLong' in timeline) return ['too long'];
    const held: unknown[] = [];
    for (let tick = 0; tick < Math.min(timeline.ticks, 400); tick++) {
      const run = timeline.at(tick);
      held.push([run?.held, run?.pause, run?.runs]);
    }
    return [timeline.ticks, timeline.frames, held];
  });
}

test('every rule with a safe fix on its page is mended there', () => {
  const names = new Set<string>(RULES.map(({ name }) => name));
  expect(names.has('merged-presses')).toBe(true);
  for (const { name, page } of RULES) {
    const text = withGame(page.bad);
    const own = checked(text).filter(({ rule }) => rule === name);
    if (!own.some(({ fixes }) => fixes.some(({ safety }) => safety === 'safe'))) continue;
    const { left } = applyFixes(text, checked, 'safe');
    expect([name, left.map(({ rule }) => rule)]).toEqual([name, []]);
  }
});
