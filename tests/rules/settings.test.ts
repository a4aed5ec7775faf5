import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { readJson } from '@core/rules/json.js';
import { DEFAULT_LIMITS } from '@core/rules/limits.js';
import { readSettings } from '@core/rules/settings.js';
import { check, rulesIn } from './support.js';

describe('settings', () => {
  test('change a severity, and turn a rule off', () => {
    const note = 'let hop = U .4 J';
    const set = (severity: string) =>
      readSettings(`{ "rules": { "unsettled": "${severity}" } }`).settings;
    expect(check(note).map(({ severity }) => severity)).toEqual(['warning']);
    expect(check(note, set('error')).map(({ severity }) => severity)).toEqual(['error']);
    expect(check(note, set('note')).map(({ severity }) => severity)).toEqual(['note']);
    expect(check(note, set('off'))).toEqual([]);
  });

  test('a silence of a rule that is off is not unused', () => {
    const { settings } = readSettings('{ "rules": { "unsettled": "off" } }');
    const note = 'let hop = U .4 J  # tiptoe: allow unsettled because of the ledge';
    expect(rulesIn(note, settings)).toEqual([]);
  });

  test('limits reach the rules that they are for', () => {
    const { settings } = readSettings(
      '{ "limits": { "tapsPerSecond": 12, "changesPerTick": 2, "switchesPerSecond": 1 } }',
    );
    expect(rulesIn('let hop = J .4 J')).toEqual(['beyond-hands']);
    expect(rulesIn('let hop = J .4 J', settings)).toEqual([]);
    expect(rulesIn('let hop = ULJ3', settings)).toEqual(['pinch']);
    expect(rulesIn('let hop = J S', settings)).toEqual(['beyond-hands']);
    expect(rulesIn('let hop = J S')).toEqual([]);
  });

  test('each error has its place and a way out', () => {
    const text = '{ "rules": { "unsetled": "off", "pinch": "loud" }, "limit": 3 }';
    const { errors, settings } = readSettings(text);
    expect(errors.map(({ span, title }) => [text.slice(span.start, span.end), title])).toEqual([
      ['"unsetled"', 'unsetled is no rule'],
      ['"loud"', 'pinch has no such severity'],
      ['"limit"', 'limit is no setting'],
    ]);
    expect(errors[0]?.wayOut).toBe('Did you mean unsettled?');
    expect(settings.rules.size).toBe(0);
    expect(settings.limits).toEqual(DEFAULT_LIMITS);
  });

  test.each([
    ['', 0, 'it ends too soon'],
    ['{ "rules": ', 11, 'it ends too soon'],
    ['{ "rules" 3 }', 10, 'a colon is missing'],
    ['{ "rules": {} "limits": {} }', 14, 'a comma or } is missing'],
    ['{ rules: {} }', 2, 'a name in double quotes is missing'],
    ['{} // why', 3, 'something stands behind the end'],
    ['[1, 2', 5, 'a comma or ] is missing'],
    ["{ 'rules': {} }", 2, 'a name in double quotes is missing'],
    ['{ "a": 01 }', 8, 'a comma or } is missing'],
    ['{ "a": "\\x" }', 7, 'no value can begin here'],
  ])('%j is no JSON from %i on', (text, start, reason) => {
    const { errors } = readSettings(text);
    expect(errors).toHaveLength(1);
    expect(errors[0]?.title).toBe(`This is no JSON: ${reason}`);
    expect(errors[0]?.span.start).toBe(start);
  });

  test('brackets without end are refused, not followed', () => {
    expect(readJson('['.repeat(1_000_000)).ok).toBe(false);
  });

  test('a name that is there twice is reported', () => {
    const { errors } = readSettings('{ "rules": {}, "rules": {} }');
    expect(errors.map(({ title }) => title)).toEqual(['rules is there twice']);
  });
});

describe('JSON with places', () => {
  test('is JSON exactly where JSON.parse says so', () => {
    const pieces = fc.constantFrom('{', '}', '[', ']', ',', ':', '"a"', '"', '1', '-0.5e3', '01', 'true', 'nul', ' ', '\n', '\\', '\u00e9', '"\\u00e9"'); // prettier-ignore
    const text = fc.oneof(
      fc.array(pieces, { maxLength: 12 }).map((all) => all.join('')),
      fc.json({ maxDepth: 4 }),
    );
    fc.assert(
      fc.property(text, (json) => {
        expect(readJson(json).ok).toBe(parses(json));
      }),
      { numRuns: 2000 },
    );
  });

  test('gives every member its place', () => {
    const flat = fc.dictionary(fc.string(), fc.oneof(fc.string(), fc.double({ noNaN: true, noDefaultInfinity: true }), fc.boolean())); // prettier-ignore
    fc.assert(
      fc.property(flat, fc.constantFrom(undefined, 2), (value, indent) => {
        const text = JSON.stringify(value, undefined, indent);
        const read = readJson(text);
        const members = read.ok ? (read.node.members ?? []) : [];
        const found = members.map(({ at, value: { span } }) => [
          JSON.parse(text.slice(at.start, at.end)),
          JSON.parse(text.slice(span.start, span.end)),
        ]);
        expect(found).toEqual(Object.entries(JSON.parse(text) as object));
      }),
    );
  });
});

function parses(text: string): boolean {
  try {
    JSON.parse(text);
    return true;
  } catch {
    return false;
  }
}
