import type { Span } from '../text/span.js';
import type { ScannedToken } from '../syntax/scanner.js';
import * as T from '../syntax/tokens.js';
import type { Analysis } from './analysis.js';
import { typedAt } from './completion/typed.js';
import { pointAt } from './items-at.js';
import { DECLARATIONS, SETTINGS, type SettingPlace } from './settings-words.js';

/** What a setting or the head of a declaration takes, with the part that is being written. */
export interface Signature {
  /** `spread LENGTH`. */
  readonly label: string;
  /** Where each part stands in the label, and what it is. */
  readonly parts: readonly { readonly span: Span; readonly what: string }[];
  /** Which part is being written; undefined behind the last one. */
  readonly active: number | undefined;
  readonly what: string;
}

/** Signature help: what a setting takes, from its name on to the end of its values. */
export function signature(analysis: Analysis, path: string, offset: number): Signature | undefined {
  const point = pointAt(analysis, path, offset);
  if (point === undefined) return undefined;
  const typed = typedAt(point);
  if (typed.inComment) return undefined;
  const { tokens, open } = typed;
  const [first] = tokens;
  const inner = open[open.length - 1];
  if (first === undefined) return undefined;
  if (inner === undefined) return headSignature(tokens, typed.start);
  const place = placeOf(tokens, inner);
  if (place === undefined) return undefined;
  for (let i = tokens.length - 1; i > inner; i--) {
    const token = tokens[i];
    if (token === undefined || CLOSERS.has(token.tokenType)) return undefined;
    const words = SETTINGS[place].find(({ key }) => key === token.image);
    if (words === undefined) continue;
    const written = countValues(tokens.slice(i + 1), words.key);
    if (written >= Math.max(1, words.values.length) && words.key !== 'spread') return undefined;
    return made(words.key, words.values, words.key === 'spread' ? spreadPart(tokens.slice(i + 1)) : written, words.what); // prettier-ignore
  }
  return undefined;
}

const CLOSERS = new Set([T.LeftBrace, T.RightBrace]);

function placeOf(tokens: readonly ScannedToken[], inner: number): SettingPlace | undefined {
  if (tokens[inner]?.tokenType !== T.LeftBrace) return undefined;
  if (tokens[0]?.tokenType === T.Hands) return 'hands';
  if (tokens[0]?.tokenType !== T.Game) return undefined;
  const [before, key] = [tokens[inner - 1]?.image, tokens[inner - 2]?.image];
  if (before === 'inputs') return undefined;
  return before === 'pause' || key === 'pause' ? 'pause' : 'game';
}

/** Whole values behind a setting's name: a fraction is one, and a sign is a part of its number. */
function countValues(tokens: readonly ScannedToken[], key: string): number {
  let count = 0;
  let goesOn = false;
  for (const { tokenType } of tokens) {
    if (tokenType === T.Join || tokenType === T.Plus) continue;
    if (tokenType === T.Slash) {
      goesOn = true;
      continue;
    }
    if (!goesOn) count++;
    goesOn = false;
  }
  return goesOn && key === 'clock' ? 0 : count;
}

/** `spread 9ms`, or `spread press 6ms pause 11ms`. */
function spreadPart(tokens: readonly ScannedToken[]): number {
  return tokens.some(({ image }) => image === 'press' || image === 'pause') ? 1 : 0;
}

function made(
  key: string,
  values: readonly { readonly name: string; readonly what: string }[],
  active: number,
  what: string,
): Signature {
  let label = key;
  const parts = values.map(({ name, what: of }, i) => {
    label += key === 'spread' && i > 0 ? ' | ' : ' ';
    const start = label.length;
    label += name;
    return { span: { start, end: label.length }, what: of };
  });
  return { label, parts, active: active < parts.length ? active : undefined, what };
}

/** The head of a declaration, as far as its own word; its parts are told by their forms. */
function headSignature(tokens: readonly ScannedToken[], start: number): Signature | undefined {
  const [first] = tokens;
  if (first === undefined || start < first.end) return undefined;
  if (tokens.some(({ tokenType }) => tokenType === T.RightBrace || tokenType === T.Equals)) return undefined; // prettier-ignore
  const words = DECLARATIONS.find(({ word }) => word === first.image);
  if (words === undefined || words.word === 'use') return undefined;
  return { label: words.form, parts: [], active: undefined, what: words.what };
}
