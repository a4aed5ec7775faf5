import { readdirSync, readFileSync } from 'node:fs';
import { loadProgram } from '@core/model/program.js';
import { checkProgram } from '@core/rules/check.js';
import { EXAMPLE_GAME, EXAMPLE_GAME_PATH } from '@core/rules/example.js';
import { DEFAULT_SETTINGS, type Settings } from '@core/rules/settings.js';
import type { Finding } from '@core/text/finding.js';
import { type Label, files as filesOf, labels } from '../support/marks.js';

/** The note of a test; it uses the game of the pages unless it says where its game comes from. */
export const NOTE = 'note.tiptoe';

export function withGame(text: string): string {
  return /^(game|use) "/m.test(text) ? text : `${text}\nuse "${EXAMPLE_GAME_PATH}"\n`;
}

/** The findings of `note.tiptoe` among files; the game of the pages is always there. */
export function findingsOf(
  files: ReadonlyMap<string, string>,
  settings: Settings = DEFAULT_SETTINGS,
): readonly Finding[] {
  const all = new Map([[EXAMPLE_GAME_PATH, EXAMPLE_GAME], ...files]);
  const program = loadProgram([NOTE], (path) => {
    const text = all.get(path);
    return text === undefined ? { reason: 'there is no such file' } : { text };
  });
  return checkProgram(program, settings).findings;
}

export function check(text: string, settings?: Settings): readonly Finding[] {
  return findingsOf(new Map([[NOTE, withGame(text)]]), settings);
}

export function rulesIn(text: string, settings?: Settings): string[] {
  return check(text, settings).map(({ rule }) => rule);
}

/** The rules about positions have tests of their own; a case here is not about them. */
const rulesFolder = new URL('../../packages/notation-core/src/rules/', import.meta.url);
const ABOUT_POSITIONS = readdirSync(new URL('positions/', rulesFolder)).map((file) =>
  file.replace('.ts', ''),
);
export const WITHOUT_POSITIONS: Settings = {
  ...DEFAULT_SETTINGS,
  rules: new Map(ABOUT_POSITIONS.map((name) => [name, 'off'])),
};

/** One case of a specification: a heading and a fence with its expected findings drawn in. */
export interface Case {
  readonly name: string;
  readonly marked: string;
}

/** The cases of a Markdown file: each fence under a heading is one. */
export function casesOf(path: URL): Case[] {
  const cases: Case[] = [];
  let name = '';
  let fence: string[] | undefined;
  for (const line of readFileSync(path, 'utf8').split('\n')) {
    if (fence === undefined && line.startsWith('## ')) name = line.slice(3);
    else if (fence === undefined && line.startsWith('```')) fence = [];
    else if (fence !== undefined && line === '```') {
      cases.push({ name, marked: fence.join('\n') });
      fence = undefined;
    } else fence?.push(line);
  }
  return cases;
}

/** What a case expects of its note, and what the check says of it, both to be compared. */
export function outcome(marked: string): { text: string; expected: Label[]; found: Label[] } {
  const files = filesOf(marked);
  const { text: note, labels: expected } = labels(files.get(NOTE) ?? '');
  const whole = new Map([...files].map(([path, text]) => [path, labels(text).text]));
  const text = withGame(note);
  whole.set(NOTE, text);
  const found = findingsOf(whole, WITHOUT_POSITIONS).map(({ rule, span }) => ({
    span: { start: span.start, end: oneLine(text, span.start, span.end) },
    words: rule,
  }));
  return { text: note, expected: sorted(expected), found: sorted(found) };
}

/** A label is drawn under one line: of a longer span it shows the first. */
function oneLine(text: string, start: number, end: number): number {
  const line = text.indexOf('\n', start);
  return line < 0 ? end : Math.max(start, Math.min(end, line));
}

function sorted(found: readonly Label[]): Label[] {
  return [...found].sort(
    (a, b) =>
      a.span.start - b.span.start || a.span.end - b.span.end || (a.words < b.words ? -1 : 1),
  );
}
