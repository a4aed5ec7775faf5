import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { DECLARATIONS, SETTINGS, WORDS } from '@core/ide/settings-words.js';
import { checkFile } from '@core/rules/check.js';
import { programOf } from '@core/model/program.js';
import { DECLARATION_WORDS, KEYWORDS } from '@core/syntax/tokens.js';

/** The rules that find something in a note. */
function rules(text: string): string[] {
  const program = programOf(text);
  const file = program.files.get('note.tiptoe');
  return file === undefined ? [] : checkFile(program, file).map(({ rule, params }) => `${rule} ${String(params['name'] ?? params['setting'] ?? '')}`); // prettier-ignore
}

/** A snippet with its places filled in as they are. */
const filled = (snippet: string): string =>
  snippet
    .replace(/\$\{\d+\|([^,|]*)[^}]*\}/g, '$1')
    .replace(/\$\{\d+:?([^}]*)\}/g, '$1')
    .replace(/\t/g, '  ');

test('every word of the language is explained, and none besides', () => {
  expect(DECLARATIONS.map(({ word }) => word)).toEqual([...DECLARATION_WORDS.keys()]);
  const rest = [...KEYWORDS.keys()].filter((word) => !DECLARATION_WORDS.has(word));
  expect(WORDS.map(({ word }) => word).sort()).toEqual(rest.sort());
});

test('every setting of a game is one, and its snippet is read', () => {
  const parts = SETTINGS.game.map(({ snippet }) => filled(snippet)).join('\n');
  expect(rules(`game "Ferry" {\n${parts}\n}`)).toEqual([]);
});

test('every setting of a pause is one', () => {
  const parts = SETTINGS.pause.map(({ snippet }) => filled(snippet)).join(' ');
  expect(rules(`game "Ferry" { clock 50 pause P { ${parts} } }`)).toEqual([]);
});

test('every setting of hands is one', () => {
  const parts = SETTINGS.hands.map(({ snippet }) => filled(snippet)).join('\n');
  expect(rules(`game "Ferry" { clock 50 }\nhands {\n${parts}\n}`)).toEqual([]);
});

test('the settings of a game are those of the language reference, and no others', () => {
  const url = new URL('../../packages/notation-core/LANGUAGE.md', import.meta.url);
  const table = /\| setting of `game`[^\n]*\n\|[-| ]+\n((?:\|[^\n]*\n)+)/.exec(
    readFileSync(url, 'utf8'),
  )?.[1];
  const keys = [...(table ?? '').matchAll(/^\| `(\w+)`/gm)].map(([, key]) => key);
  expect(SETTINGS.game.map(({ key }) => key)).toEqual(keys);
});

test('a name that is none is told so', () => {
  expect(rules('hands { spreadx 1 }')).toContain('unknown-name spreadx');
});
