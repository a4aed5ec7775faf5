import { readFileSync } from 'node:fs';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, test } from 'vitest';
import { RULES } from '@core/rules/registry.js';
import { readSettings } from '@core/rules/settings.js';
import type { Problems, Rule } from '@core/rules/rule.js';
import { problemRule } from '@core/rules/rule.js';
import type { TABLE } from '@core/rules/table.generated.js';
import { unclosedPause } from '@core/rules/text/unclosed-pause.js';
import { MADE_FILES } from '../../packages/notation-core/scripts/generate.mjs';

const home = new URL('../../packages/notation-core/', import.meta.url);

test.each(Object.entries(MADE_FILES))('%s is what npm run generate writes', async (path, make) => {
  expect(readFileSync(new URL(path, home), 'utf8')).toBe(await make());
});

test('rules stand in the table by name, once each', () => {
  const names = RULES.map(({ name }) => name);
  expect(names).toEqual([...new Set(names)].sort());
  expect(names.length).toBeGreaterThan(50);
});

test('a wrong name or a missing parameter does not compile', () => {
  const { page } = unclosedPause;
  // @ts-expect-error -- no such code
  problemRule({ name: 'unclosed-sack', severity: 'error', title: '', page, message: () => words });
  problemRule({
    name: 'stray-count',
    severity: 'error',
    title: '',
    page,
    // @ts-expect-error -- its parameters are `written` and `inputs`
    message: ({ letters }) => ({ ...words, title: letters as string }),
  });
  // The rule of one code with the parameters of another.
  const swapped: Rule<'stray-count', Problems['stray-closer']> = {
    name: 'stray-count',
    severity: 'error',
    title: '',
    page,
    message: ({ written }) => ({ ...words, title: written }),
  };
  // @ts-expect-error -- a count has inputs too, and its words may need them
  const table: Pick<typeof TABLE, 'stray-closer'> = { 'stray-closer': swapped };
  expect(Object.keys(table)).toEqual(['stray-closer']);
});
const words = { title: '', reason: '', wayOut: '' };

describe('the schema of tiptoe.json', () => {
  const schema: object = JSON.parse(
    readFileSync(new URL('schema/tiptoe.schema.json', home), 'utf8'),
  );
  const validate = new Ajv2020({ allErrors: true, strict: true }).compile(schema);

  test.each([
    '{}',
    '{ "$schema": "./tiptoe.schema.json" }',
    '{ "rules": {} , "limits": {} }',
    '{ "rules": { "unsettled": "off", "count-form": "error" } }',
    '{ "limits": { "tapsPerSecond": 7.5, "changesPerTick": 2 } }',
    '[]',
    '"rules"',
    'null',
    '{ "rule": {} }',
    '{ "rules": [] }',
    '{ "rules": { "unsetled": "off" } }',
    '{ "rules": { "unsettled": "on" } }',
    '{ "rules": { "unsettled": null } }',
    '{ "rules": { "unclosed-pause": "off" } }',
    '{ "limits": { "tapsPerSecond": "9" } }',
    '{ "limits": { "tapsPerSecond": 0 } }',
    '{ "limits": { "changesPerTick": 33 } }',
    '{ "limits": { "taps": 9 } }',
    '{ "$schema": 3 }',
  ])('takes and refuses what the reader does: %s', (text) => {
    expect(validate(JSON.parse(text))).toBe(readSettings(text).errors.length === 0);
  });
});
