import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { analysisOf } from '@core/ide/analysis.js';
import { definition } from '@core/ide/definition.js';
import { highlights } from '@core/ide/highlights.js';
import { mentionAt } from '@core/ide/names.js';
import { type NameKind, occurrencesOf } from '@core/ide/occurrences.js';
import { references } from '@core/ide/references.js';
import { rename } from '@core/ide/rename.js';
import { checkProgram } from '@core/rules/check.js';
import { parse } from '@core/syntax/parse.js';
import { messyNote, tidyNote } from '../support/generate.js';
import { edited, programOfTexts } from './world.js';

type Texts = Map<string, string>;

/** A valid note cut into three files that use each other, in ways that bring all names together. */
const notes: fc.Arbitrary<Texts> = fc
  .tuple(fc.oneof(tidyNote, messyNote), fc.array(fc.nat(2), { minLength: 30, maxLength: 30 }))
  .map(([text, where]) => {
    const texts: Texts = new Map([
      ['base.tiptoe', ''],
      ['sub/log.tiptoe', 'use "../base.tiptoe"\n'],
      ['note.tiptoe', 'use "sub/log.tiptoe"\n'],
    ]);
    const paths = [...texts.keys()];
    for (const [k, { unit }] of parse(text).units.entries()) {
      const path = paths[where[k % where.length] ?? 0] ?? '';
      texts.set(path, `${texts.get(path) ?? ''}${unit.text}\n`);
    }
    return texts;
  });

/** Every name of the files, by where it is. */
function namesIn(texts: Texts): { path: string; at: number; kind: NameKind; name: string }[] {
  return [...texts].flatMap(([path, text]) =>
    parse(text).units.flatMap(({ start, unit }) =>
      occurrencesOf(unit).map((each) => ({ ...each, path, at: start + each.start })),
    ),
  );
}

function freshFor(kind: NameKind): string {
  return kind === 'input' ? 'K' : 'brand_new';
}

/** The findings without what they say of places: their rule, their file and their declaration. */
function findingsOf(texts: Texts): string[] {
  const program = programOfTexts(texts);
  return checkProgram(program)
    .findings.map(({ rule, file, span }) => {
      const units = program.files.get(file)?.tree.units ?? [];
      return `${file} ${units.filter(({ start }) => start <= span.start).length} ${rule}`;
    })
    .sort();
}

const picked = fc.tuple(notes, fc.nat()).map(([texts, n]) => {
  const names = namesIn(texts);
  const one = names[n % names.length];
  if (one === undefined) throw new Error('a note without names');
  return { texts, one, names };
});

describe('in random notes of several files', () => {
  test('the references of a name are all that is written so, of its kind', () => {
    fc.assert(
      fc.property(picked, ({ texts, one, names }) => {
        const analysis = analysisOf(programOfTexts(texts));
        const found = references(analysis, one.path, one.at);
        for (const { path, start, end } of found) {
          expect(texts.get(path)?.slice(start, end)).toBe(one.name);
          expect(references(analysis, path, start)).toEqual(found);
          expect(mentionAt(analysis, path, end)?.kind).toBeDefined();
        }
        expect(found.some(({ path, start }) => path === one.path && start === one.at)).toBe(true);
        // All three files are seen together, so a name that is not local means one thing in them.
        if (!['choice', 'way', 'axis', 'button'].includes(one.kind)) {
          const places = names
            .filter(({ kind, name }) => kind === one.kind && name === one.name)
            .map(({ path, at }) => `${path} ${at}`);
          expect(found.map(({ path, start }) => `${path} ${start}`).sort()).toEqual(places.sort());
        }
        expect(highlights(analysis, one.path, one.at).map(({ start }) => start)).toEqual(
          found.filter(({ path }) => path === one.path).map(({ start }) => start),
        );
      }),
      { numRuns: 150 },
    );
  });

  test('the definition of every reference has the declaration in it', () => {
    fc.assert(
      fc.property(picked, ({ texts, one }) => {
        const analysis = analysisOf(programOfTexts(texts));
        const found = references(analysis, one.path, one.at);
        for (const declared of found.filter(({ declares }) => declares)) {
          for (const { path, start } of found) {
            const { targets = [] } = definition(analysis, path, start) ?? {};
            expect(targets).toContainEqual(
              expect.objectContaining({
                path: declared.path,
                start: declared.start,
                end: declared.end,
              }),
            );
          }
        }
      }),
      { numRuns: 150 },
    );
  });

  test('a name that is free is given everywhere, finds nothing new, and back again', () => {
    fc.assert(
      fc.property(picked, ({ texts, one }) => {
        const fresh = freshFor(one.kind);
        const there = rename(analysisOf(programOfTexts(texts)), one.path, one.at, fresh);
        expect(there?.conflicts).toEqual([]);
        const after = edited(texts, there?.edits ?? []);
        expect(namesIn(after).map(({ kind, name }) => `${kind} ${name}`)).not.toContain(
          ['choice', 'way'].includes(one.kind) ? '' : `${one.kind} ${one.name}`,
        );
        expect(findingsOf(after)).toEqual(findingsOf(texts));
        const [first] = there?.edits ?? [];
        const at = first?.edits[0]?.span.start ?? 0;
        const back = rename(analysisOf(programOfTexts(after)), first?.path ?? '', at, one.name);
        expect(back?.conflicts).toEqual([]);
        expect(edited(after, back?.edits ?? [])).toEqual(texts);
      }),
      { numRuns: 100 },
    );
  });

  test('a name that another one of its kind has is said to be taken', () => {
    fc.assert(
      fc.property(picked, fc.nat(), ({ texts, one, names }, n) => {
        const others = names.filter(({ kind, name }) => kind === one.kind && name !== one.name);
        const other = others[n % others.length];
        fc.pre(other !== undefined && one.kind !== 'choice' && one.kind !== 'way');
        const found = rename(analysisOf(programOfTexts(texts)), one.path, one.at, other.name);
        expect(found?.conflicts.map(({ reason }) => reason)).toContain('taken');
      }),
      { numRuns: 100 },
    );
  });

  test('nothing throws at any place of any text', () => {
    fc.assert(
      fc.property(
        notes,
        fc.array(fc.tuple(fc.nat(), fc.constantFrom('{', '"', '@', '(', '\n', ']', '#', 'let '))),
        (texts, noise) => {
          const broken: Texts = new Map(texts);
          for (const [n, sign] of noise) {
            const [path = '', text = ''] = [...broken][n % broken.size] ?? [];
            const at = n % (text.length + 1);
            broken.set(path, text.slice(0, at) + sign + text.slice(at));
          }
          const analysis = analysisOf(programOfTexts(broken));
          for (const { path, at, name } of namesIn(broken).slice(0, 40)) {
            for (const each of references(analysis, path, at)) {
              expect(broken.get(each.path)?.slice(each.start, each.end)).toBe(name);
            }
            rename(analysis, path, at, 'other');
            definition(analysis, path, at);
          }
        },
      ),
      { numRuns: 60 },
    );
  });
});
