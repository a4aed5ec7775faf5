import { piecesOf } from '../syntax/print/pieces.js';
import * as T from '../syntax/tokens.js';
import type { Unit } from '../syntax/tree.js';
import type { Analysis } from './analysis.js';
import { type NameKind, occurrencesOf } from './occurrences.js';

/** What a token is; a client maps them to its own colours. */
export const TOKEN_KINDS = [
  'comment',
  'docs',
  'silence',
  'keyword',
  'text',
  'number',
  'operator',
  'bracket',
  'input',
  'spot',
  'phrase',
  'route',
  'ground',
  'hands',
  'choice',
  'way',
  'axis',
  'button',
  'setting',
] as const;
export type TokenKind = (typeof TOKEN_KINDS)[number];

/**
 * The tokens of a unit, three numbers each: where it begins, counted from the start of the unit,
 * how long it is, and its kind (an index of `TOKEN_KINDS`) times 2, plus 1 where it declares a name.
 * In order, and none overlaps another.
 */
export type UnitTokens = readonly number[];

/** A unit's tokens and where the unit begins in the file. */
export interface PlacedTokens {
  readonly start: number;
  readonly tokens: UnitTokens;
}

const known = new WeakMap<Unit, UnitTokens>();

/**
 * Semantic tokens of a file, unit by unit: a unit that did not change has the very array that it
 * had before, so that a change of the file costs what the change costs.
 */
export function semanticTokens(analysis: Analysis, path: string): readonly PlacedTokens[] {
  const units = analysis.file(path)?.tree.units ?? [];
  return units.map(({ unit, start }) => ({ start, tokens: tokensOf(unit) }));
}

/** The tokens of one unit, made once. They depend on its text alone. */
export function tokensOf(unit: Unit): UnitTokens {
  let found = known.get(unit);
  if (found === undefined) {
    found = readTokens(unit);
    known.set(unit, found);
  }
  return found;
}

const KINDS = new Map<string, number>(TOKEN_KINDS.map((kind, i) => [kind, i]));
const OPERATORS = new Set([T.Settle, T.Join, T.Arrow, T.Amp, T.Colon, T.Comma, T.Equals, T.Slash, T.Plus]); // prettier-ignore
const BRACKETS = new Set([T.LeftParen, T.RightParen, T.LeftSquare, T.RightSquare, T.LeftBrace, T.RightBrace]); // prettier-ignore
const KEYWORDS = new Set(T.KEYWORDS.values());

function readTokens(unit: Unit): number[] {
  const out: number[] = [];
  const put = (start: number, end: number, kind: TokenKind, declares = false): void => {
    if (end > start) out.push(start, end - start, (KINDS.get(kind) ?? 0) * 2 + (declares ? 1 : 0));
  };
  const names = occurrencesOf(unit);
  const settings = new Set(settingsOf(unit));
  let n = 0;
  for (const { text, start, end, type } of piecesOf(unit)) {
    while ((names[n]?.start ?? Infinity) < start) n++;
    if (type === undefined) {
      put(start, end, /^#\s*tiptoe:/.test(text) ? 'silence' : text.startsWith('##') ? 'docs' : 'comment'); // prettier-ignore
      continue;
    }
    let at = start;
    // A spot's `@` belongs to its name; the letters of a press are names one by one.
    for (let name = names[n]; name !== undefined && name.start < end; name = names[++n]) {
      const from = name.kind === 'spot' ? name.start - 1 : name.start;
      if (from < at || name.end > end) continue;
      put(from, name.end, kindOf(name.kind), name.declares);
      at = name.end;
    }
    if (at > start) {
      put(at, end, 'number');
      continue;
    }
    if (settings.has(start)) put(start, end, 'setting');
    else if (KEYWORDS.has(type)) put(start, end, 'keyword');
    else if (type === T.Str) put(start, end, 'text');
    else if (type === T.Quantity || type === T.Sightings) put(start, end, 'number');
    else if (type === T.Wait || type === T.Repeat) {
      put(start, start + 1, 'operator');
      put(start + 1, end, 'number');
    } else if (OPERATORS.has(type)) put(start, end, 'operator');
    else if (BRACKETS.has(type)) put(start, end, 'bracket');
    else if (type === T.Press) lettersOf(text, start, put);
    else if (type === T.Spot) put(start, end, 'spot');
    else if (type === T.Word && isEntry(unit, text)) put(start, end, 'setting');
  }
  return out;
}

type Put = (start: number, end: number, kind: TokenKind) => void;

/** A press that the tree does not hold, in text that could not be read. */
function lettersOf(text: string, start: number, put: Put): void {
  const letters = /^[A-Z]*/.exec(text)?.[0].length ?? 0;
  for (let i = 0; i < letters; i++) put(start + i, start + i + 1, 'input');
  put(start + letters, start + text.length, 'number');
}

function kindOf(kind: NameKind): TokenKind {
  return kind;
}

/** Where the names of settings stand. */
function settingsOf({ declaration }: Unit): number[] {
  if (declaration.kind === 'hands') {
    return declaration.settings.flatMap(({ key, words }) => [key.start, ...words.map(({ start }) => start)]); // prettier-ignore
  }
  if (declaration.kind !== 'game') return [];
  const { settings, pauses } = declaration;
  return [...settings, ...pauses.flatMap((pause) => pause.settings)].map(({ key }) => key.start);
}

function isEntry({ declaration }: Unit, word: string): boolean {
  return declaration.kind === 'game' && (word === 'inputs' || word === 'pause' || word === 'cue');
}
