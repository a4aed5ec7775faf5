import { rulePage } from '../../rules/page.js';
import { isRuleName, ruleNamed } from '../../rules/registry.js';
import type { Setting, Unit } from '../../syntax/tree.js';
import { type Point } from '../items-at.js';
import type { UnitHover } from './types.js';
import {
  DECLARATIONS,
  SETTINGS,
  type SettingPlace,
  type SettingWords,
  WORDS,
} from '../settings-words.js';
import { code } from '../words.js';

/** The page of a rule that a silence names. */
export function silenceHover({ unit, at }: Point): UnitHover {
  const comment = unit.comments.find(({ start, end }) => start <= at && at <= end);
  if (comment === undefined) return undefined;
  const written = unit.text.slice(comment.start, comment.end);
  const head = /^#\s*tiptoe:\s*allow\s+/.exec(written)?.[0];
  if (head === undefined) return undefined;
  const list = written.slice(head.length).split(/\bbecause\b/)[0] ?? '';
  for (const { 0: name, index } of list.matchAll(/[a-z][a-z-]*/g)) {
    const start = comment.start + head.length + index;
    const end = start + name.length;
    if (at < start || at > end || !isRuleName(name)) continue;
    return { span: { start, end }, text: rulePage(ruleNamed(name)) };
  }
  return undefined;
}

/** A setting, or one of the language's own words. */
export function wordHover(point: Point): UnitHover {
  const { unit, at } = point;
  const setting = settingAt(unit, at);
  if (setting !== undefined) {
    const { words, key } = setting;
    const form = [words.key, ...words.values.map(({ name }) => name)].join(' ');
    const values = words.values.map(({ name, what }) => `- ${code(name)}: ${what}`);
    const text = [code(form), words.what, values.join('\n')].filter((part) => part !== '');
    return { span: key, text: text.join('\n\n') };
  }
  const word = wordAt(unit, at);
  if (word === undefined) return undefined;
  const known = [...DECLARATIONS, ...WORDS].find((each) => each.word === word.name);
  return known && { span: word, text: `${code(known.form)}\n\n${known.what}` };
}

/** The word under a place, where it is no text in quotes and no comment. */
export function wordAt(
  unit: Unit,
  at: number,
): { name: string; start: number; end: number } | undefined {
  const { text, comments } = unit;
  if (comments.some(({ start, end }) => start <= at && at <= end)) return undefined;
  const before = /[A-Za-z0-9_]*$/.exec(text.slice(Math.max(0, at - 100), at))?.[0] ?? '';
  const after = /^[A-Za-z0-9_]*/.exec(text.slice(at, at + 100))?.[0] ?? '';
  const start = at - before.length;
  const end = at + after.length;
  if (start === end || text[start - 1] === '@') return undefined;
  const lineStart =
    Math.max(text.lastIndexOf('\n', start - 1), text.lastIndexOf('\r', start - 1)) + 1;
  const quotes = text.slice(lineStart, start).replace(/\\./g, '').match(/"/g)?.length ?? 0;
  return quotes % 2 === 1 ? undefined : { name: before + after, start, end };
}

/** The setting whose name is at a place, with what is known of it. */
function settingAt(
  unit: Unit,
  at: number,
): { words: SettingWords; key: Setting['key'] } | undefined {
  const { declaration } = unit;
  const find = (place: SettingPlace, settings: readonly Setting[]) => {
    const key = settings.find((each) => each.key.start <= at && at <= each.key.end)?.key;
    const words = SETTINGS[place].find((each) => each.key === key?.name);
    return key === undefined || words === undefined ? undefined : { words, key };
  };
  if (declaration.kind === 'hands') return find('hands', declaration.settings);
  if (declaration.kind !== 'game') return undefined;
  for (const { settings } of declaration.pauses) {
    const found = find('pause', settings);
    if (found !== undefined) return found;
  }
  const own = find('game', declaration.settings);
  if (own !== undefined) return own;
  // `inputs`, `pause` and `cue` are no settings of the tree but lines of their own.
  const word = wordAt(unit, at);
  const words = SETTINGS.game.find((each) => each.key === word?.name);
  if (word === undefined || words === undefined || word.start <= declaration.start)
    return undefined;
  return { words, key: word };
}
