import type { TokenType } from 'chevrotain';
import type { ItemsBuilder } from './items.js';
import type { ScannedToken } from './scanner.js';
import * as T from './tokens.js';
import type * as Tree from './tree.js';

/** Small nodes from tokens, and what the entries of `game` and `hands` mean as a tree. */

export const VALUE_TOKENS: TokenType[] = [
  T.Quantity,
  T.Join,
  T.Plus,
  T.Slash,
  T.Wait,
  T.Settle,
  T.Str,
  T.Press,
];

/** One `word value… { … }` as it was read. */
export interface EntryParts {
  readonly key: ScannedToken;
  readonly parts: readonly ScannedToken[];
  readonly block: boolean;
  readonly inner: readonly EntryParts[];
  readonly inputs: readonly Tree.InputLine[];
  readonly end: number;
}

export function nameAt(token: ScannedToken): Tree.Name {
  return { name: token.image, start: token.startOffset, end: token.end };
}

export function nameOf(token: ScannedToken | undefined): Tree.Name | undefined {
  return token === undefined ? undefined : nameAt(token);
}

export function quantityOf(
  token: ScannedToken | undefined,
  sign: ScannedToken | undefined,
): Tree.Quantity | undefined {
  if (token === undefined) return undefined;
  const unit = /(ms|s|%)?$/.exec(token.image)?.[0] ?? '';
  const digits = unit === '' ? token.image : token.image.slice(0, -unit.length);
  const negative = sign?.tokenType === T.Join;
  return {
    text: (negative ? '-' : '') + digits,
    unit,
    start: sign?.startOffset ?? token.startOffset,
    end: token.end,
  };
}

function toSetting(entry: EntryParts, build: ItemsBuilder): Tree.Setting {
  const values: Tree.Quantity[] = [];
  let pace: Tree.WaitItem | Tree.SettleItem | undefined;
  let sign: ScannedToken | undefined;
  for (const part of entry.parts) {
    if (part.tokenType === T.Join || part.tokenType === T.Plus) sign = part;
    else if (part.tokenType === T.Quantity) {
      const value = quantityOf(part, sign);
      sign = undefined;
      if (value !== undefined) values.push(value);
    } else if (part.tokenType === T.Wait || part.tokenType === T.Settle) {
      pace = build.paceValue(part);
    } else if (part.tokenType !== T.Slash) {
      build.strayText(part, 'a number');
    }
  }
  const last = entry.parts[entry.parts.length - 1];
  if (last !== undefined && (sign !== undefined || last.tokenType === T.Slash)) {
    const after = build.written(last.startOffset, last.end);
    build.report('something-missing', last.end, last.end, { what: 'a number', after });
  }
  return {
    key: nameAt(entry.key),
    values,
    words: [],
    pace,
    start: entry.key.startOffset,
    end: entry.end,
  };
}

/** Words that are values of the setting in front of them, not settings. */
const VALUE_WORDS = new Set(['press', 'pause', 'normal', 'lognormal']);

/** `spread press 6ms pause 11ms` is one setting with two words and two values. */
export function handsSettings(entries: readonly EntryParts[], build: ItemsBuilder): Tree.Setting[] {
  const settings: Tree.Setting[] = [];
  for (const entry of entries) {
    const setting = toSetting(entry, build);
    const last = settings[settings.length - 1];
    if (last !== undefined && VALUE_WORDS.has(setting.key.name)) {
      settings[settings.length - 1] = {
        ...last,
        values: [...last.values, ...setting.values],
        words: [...last.words, setting.key],
        end: setting.end,
      };
    } else settings.push(setting);
  }
  return settings;
}

export function gameParts(
  entries: readonly EntryParts[],
  build: ItemsBuilder,
): Pick<Tree.GameDeclaration, 'settings' | 'inputs' | 'pauses' | 'cues'> {
  const settings: Tree.Setting[] = [];
  const inputs: Tree.InputLine[] = [];
  const pauses: Tree.PauseLine[] = [];
  const cues: Tree.CueLine[] = [];
  for (const entry of entries) {
    const at = { start: entry.key.startOffset, end: entry.end };
    const word = entry.key.image;
    if (word === 'inputs') {
      inputs.push(...entry.inputs);
      strayParts(entry, build, [], '{ and the inputs');
      strayInner(entry, build, false);
      if (!entry.block) missing(build, entry, '{ and the inputs', 'inputs');
    } else if (word === 'pause') {
      const letter = entry.parts.find((part) => part.tokenType === T.Press);
      if (letter === undefined) missing(build, entry, 'the letter of the pause input', 'pause');
      pauses.push({
        letter: nameOf(letter),
        settings: entry.inner.map((inner) => toSetting(inner, build)),
        ...at,
      });
      strayParts(entry, build, [letter], '{ and the settings of the pause');
      strayInner(entry, build, true);
    } else if (word === 'cue') {
      const frame = entry.parts.find((part) => part.tokenType === T.Quantity);
      const text = entry.parts.find((part) => part.tokenType === T.Str);
      if (frame === undefined) missing(build, entry, 'the number of frames', 'cue');
      if (text === undefined) missing(build, entry, 'what it looks like, in quotes', 'cue');
      strayParts(entry, build, [frame, text], 'a number of frames and one text');
      strayInner(entry, build, false);
      cues.push({
        frame: quantityOf(frame, undefined),
        text: text === undefined ? undefined : build.textOf(text),
        ...at,
      });
    } else {
      settings.push(toSetting(entry, build));
      strayInner(entry, build, false);
    }
  }
  return { settings, inputs, pauses, cues };
}

function missing(build: ItemsBuilder, entry: EntryParts, what: string, after: string): void {
  build.report('something-missing', entry.key.end, entry.key.end, { what, after });
}

/** Values of an entry that are none of those it has use for. */
function strayParts(
  entry: EntryParts,
  build: ItemsBuilder,
  used: readonly (ScannedToken | undefined)[],
  instead: string,
): void {
  for (const part of entry.parts) if (!used.includes(part)) build.strayText(part, instead);
}

function strayInner(entry: EntryParts, build: ItemsBuilder, settings: boolean): void {
  if (!settings)
    for (const inner of entry.inner) build.strayText(inner.key, 'a line such as "D = y +1"');
  else for (const line of entry.inputs) build.stray2(line.start, line.end, 'open, dwell or resume');
}
