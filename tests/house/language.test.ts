import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, describe, test } from 'vitest';
import { loadProgram } from '@core/model/program.js';
import { scopeOf } from '@core/model/scope.js';
import { nominalRoute } from '@core/positions/nominal.js';
import { checkProgram } from '@core/rules/check.js';
import { readSettings } from '@core/rules/settings.js';
import { parse } from '@core/syntax/parse.js';
import { buildTimeline } from '@core/timeline/build.js';

/** The examples of the language reference: each does what the page says of it. */
const page = readFileSync(
  fileURLToPath(new URL('../../packages/notation-core/LANGUAGE.md', import.meta.url)),
  'utf8',
);

interface Fence {
  readonly info: string;
  readonly text: string;
  readonly line: number;
}

function fences(): Fence[] {
  const found: Fence[] = [];
  for (const match of page.matchAll(/^```([a-z]+[^\n]*)\n([\s\S]*?)^```$/gm)) {
    const line = page.slice(0, match.index).split('\n').length;
    found.push({ info: match[1] ?? '', text: match[2] ?? '', line });
  }
  return found;
}

const all = fences();
const notes = all.filter(({ info }) => info.startsWith('tiptoe'));
const named = new Map(
  notes.flatMap(({ info, text }) => {
    const name = /^tiptoe (\S+\.tiptoe)$/.exec(info)?.[1];
    return name === undefined ? [] : [[name, text] as const];
  }),
);

function programOf(text: string) {
  const path = 'example.tiptoe';
  return loadProgram([path], (asked) => {
    const found = asked === path ? text : named.get(asked);
    return found === undefined ? { reason: 'it is not on the page' } : { text: found };
  });
}

describe('the language reference', () => {
  test('has examples of every declaration', () => {
    const kinds = new Set(
      notes.flatMap(({ text }) => parse(text).units.map(({ unit }) => unit.declaration.kind)),
    );
    for (const kind of [
      'use',
      'game',
      'hands',
      'spot',
      'let',
      'seen',
      'ground',
      'route',
      'rescue',
    ]) {
      expect(kinds).toContain(kind);
    }
  });

  test.each(notes.map((fence) => [fence.line, fence] as const))(
    'the note in line %i has the findings that it is said to have',
    (_line, { info, text }) => {
      const finds = /^tiptoe finds (.+)$/.exec(info)?.[1]?.split(' ') ?? [];
      const { findings } = checkProgram(programOf(text));
      expect(findings.map(({ rule }) => rule)).toEqual(finds);
    },
  );

  test('the table is that of its note, tick by tick', () => {
    const table = all.find(({ info }) => info === 'csv worked.tiptoe');
    const program = programOf(named.get('worked.tiptoe') ?? '');
    const file = program.files.get('example.tiptoe');
    if (table === undefined || file === undefined) throw new Error('the example is gone');
    const scope = scopeOf(program, file);
    const route = scope.routes.get('worked');
    if (route === undefined) throw new Error('the route is gone');
    const { sequence, repeatCount } = nominalRoute(route.declaration, route.unit, scope);
    const timeline = buildTimeline(sequence, scope.game, { repeatCount });
    if ('tooLong' in timeline) throw new Error('too long');
    const rows: string[] = [];
    for (const run of timeline.runs()) {
      for (let i = 0; i < run.ticks; i++) {
        const frame = run.frame === undefined ? '' : String(run.frame + i);
        const held = [0, 1].map((bit) => (run.held >> bit) & 1).join(',');
        rows.push(`${run.tick + i},${frame},${run.runs ? 1 : 0},${held},${run.pause ? 1 : 0}`);
      }
    }
    const printed = table.text
      .trim()
      .split('\n')
      .slice(1)
      .map((line) => {
        const [, tick, frame, , runs, d, j, p] = line.split(',');
        return [tick, frame, runs, d, j, p].join(',');
      });
    expect(rows).toEqual(printed);
  });

  test('the settings are taken', () => {
    const json = all.find(({ info }) => info === 'json');
    expect(readSettings(json?.text ?? '').errors).toEqual([]);
  });
});
