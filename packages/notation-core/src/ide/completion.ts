import * as T from '../syntax/tokens.js';
import { rulePage } from '../rules/page.js';
import { isRuleName, ruleNamed } from '../rules/registry.js';
import { resolvePath } from '../model/paths.js';
import { type Analysis, unitAt } from './analysis.js';
import { offerInComment, ruleWord } from './completion/comments.js';
import { offerDeclarations, offerHead, offerWord } from './completion/heads.js';
import { offerItems } from './completion/items.js';
import { offerPaths, pathWord } from './completion/paths.js';
import { offerSettings } from './completion/settings.js';
import { offerSpots } from './completion/spots.js';
import { type Typed, typedAt } from './completion/typed.js';
import type { Candidate, Completion, Offer } from './completion/types.js';
import { misfit } from './fuzzy.js';
import { aboutLetter, aboutPhrase, aboutRoute, aboutSpot } from './hover/names.js';
import { type Point, pointIn } from './items-at.js';
import { docsOf } from './docs.js';

export type { Completion, CompletionKind } from './completion/types.js';

export interface CompletionOptions {
  /** Paths of further notes that `use` could name, beside those of the program. */
  readonly paths?: readonly string[];
}

export interface Completions {
  readonly items: readonly Completion[];
  /** Whether there are more than are given. */
  readonly incomplete: boolean;
}

/** More than this nobody reads; the next letter narrows them down. */
const MOST = 300;

/**
 * Completion: what can be written at a place, the likeliest first. Only the declaration at the
 * place and what is known of its scope are looked at.
 */
export function completion(
  analysis: Analysis,
  path: string,
  offset: number,
  options: CompletionOptions = {},
): Completions {
  const point = writingAt(analysis, path, offset);
  if (point === undefined) return { items: [], incomplete: false };
  const typed = typedAt(point);
  const found: Candidate[] = [];
  const offer: Offer = (candidate) => found.push(candidate);
  let word = typed.word;
  if (typed.inComment) {
    word = ruleWord(point);
    offerInComment(point, offer);
  } else if (typed.inText) {
    word = pathWord(point);
    if (typed.tokens[0]?.tokenType === T.Use) offerPaths(point, options.paths ?? [], offer);
  } else if (!isNumber(point, typed)) offerAll(point, typed, offer);
  return picked(found, word, point);
}

/** What is said of a completion once it is looked at: Markdown, '' where there is nothing more. */
export function completionDocs(
  analysis: Analysis,
  path: string,
  { kind, name }: Pick<Completion, 'kind' | 'name'>,
): string {
  const file = analysis.file(path);
  if (file === undefined) return '';
  const scope = analysis.scope(file);
  switch (kind) {
    case 'spot':
      return aboutSpot(name, scope) ?? '';
    case 'phrase':
      return aboutPhrase(name, scope) ?? '';
    case 'route':
      return aboutRoute(name, scope) ?? '';
    case 'input':
      return aboutLetter(name, scope.game) ?? '';
    case 'rule':
      return isRuleName(name) ? rulePage(ruleNamed(name)) : '';
    case 'path': {
      const used = analysis.file(resolvePath(path, name));
      return used === undefined ? '' : docsOf(used.tree.units[0]?.unit ?? EMPTY);
    }
    default:
      return '';
  }
}

const EMPTY = { text: '', declaration: { kind: 'broken', start: 0, end: 0 }, comments: [], problems: [] } as const; // prettier-ignore

/** The unit that is being written at an offset: at the end of a line the one that the line is of. */
function writingAt(analysis: Analysis, path: string, offset: number): Point | undefined {
  const file = analysis.file(path);
  if (file === undefined) return undefined;
  const placed = unitAt(file, offset);
  if (placed === undefined) return undefined;
  const before = file.tree.text.charAt(offset - 1);
  if (placed.start === offset && before !== '' && !/[\r\n]/.test(before)) {
    const front = unitAt(file, offset - 1);
    if (front !== undefined) return pointIn(analysis, file, front, offset);
  }
  return pointIn(analysis, file, placed, offset);
}

/** Behind a digit there is nothing to choose from: a count, a number, coordinates. */
function isNumber({ unit }: Point, { word, start }: Typed): boolean {
  return /^\d/.test(word) && unit.text[start - 1] !== '@';
}

function offerAll(point: Point, typed: Typed, offer: Offer): void {
  const { tokens, open, inRow, start } = typed;
  const { text } = point.unit;
  const kind = inRow ? point.unit.declaration.kind : undefined;
  const first = tokens[0]?.tokenType;
  const lineStart =
    Math.max(text.lastIndexOf('\n', start - 1), text.lastIndexOf('\r', start - 1)) + 1;
  const freshLine = text.slice(lineStart, start).trim() === '';
  const inBlock = open.length > 0 || inRow;
  if (!inBlock && freshLine && (tokens.length === 0 || isWhole(typed))) offerDeclarations(offer);
  if (tokens.length === 0 && !inRow) return;
  const last = tokens[tokens.length - 1]?.tokenType;
  if (kind === 'seen' || first === T.Seen) {
    if (inBlock) offerRow(point, typed, offer);
  } else if (kind === 'ground' || (first === T.Ground && open.length > 0)) {
    if (tokens.length > 1 || inRow) offerWord('by', offer, 6);
    offerItems(point, typed, offer);
  } else if (first === T.Game || first === T.Hands) {
    if (inBlock) offerSettings(point, typed, offer);
  } else if (first === T.Let) {
    if (tokens.some(({ tokenType }) => tokenType === T.Equals)) offerItems(point, typed, offer);
  } else if (!inBlock) {
    if (first === T.Use && last === T.Use) offer({ label: '"…"', kind: 'form', rank: 0, insert: '"${1}"', snippet: true }); // prettier-ignore
    offerHead(point, typed, offer);
  } else if (first === T.Route || first === T.Rescue) {
    if (!inChoose(typed)) offerItems(point, typed, offer);
  }
}

/** Directly in the block of a choose only ways can stand. */
function inChoose({ tokens, open }: Typed): boolean {
  const inner = open[open.length - 1] ?? -1;
  if (tokens[inner]?.tokenType !== T.LeftBrace) return false;
  return [inner - 1, inner - 2].some((i) => tokens[i]?.tokenType === T.Choose);
}

/** Whether a declaration could have ended there, so that another can begin. */
function isWhole({ tokens }: Typed): boolean {
  const last = tokens[tokens.length - 1];
  if (last === undefined) return true;
  const [first] = tokens;
  return first?.tokenType === T.Let ? tokens.length > 3 : tokens.length > 1;
}

/** A row of the log: a spot, its items, where they led. */
function offerRow(point: Point, typed: Typed, offer: Offer): void {
  const { tokens, word } = typed;
  let arrow = -1;
  let colon = -1;
  tokens.forEach(({ tokenType }, i) => {
    if (tokenType === T.Arrow) arrow = i;
    else if (tokenType === T.Colon) colon = i;
  });
  const last = tokens[tokens.length - 1]?.tokenType;
  if (last === T.Arrow) offerSpots(point, { spots: [], unknown: true }, offer);
  else if (colon > arrow) offerItems(point, typed, offer);
  else if (last !== T.Spot || arrow === tokens.length - 2) {
    if (word.startsWith('@')) offerSpots(point, { spots: [], unknown: true }, offer);
    else {
      const insert = '@${1:from} : ${2:U} -> @${3:to} x${4:1}';
      offer({ label: '@from : … -> @to', kind: 'form', rank: 0, insert, snippet: true, detail: 'a row of the log' }); // prettier-ignore
    }
  }
}

function picked(found: readonly Candidate[], word: string, { start, at }: Point): Completions {
  const fitting: { candidate: Candidate; order: number }[] = [];
  for (const candidate of found) {
    const fit = word === '' || word === '@' ? 0 : misfit(word, candidate.label);
    // What is likely here stays in front of what only fits better.
    const { rank } = candidate;
    const group = Math.floor(rank);
    if (fit !== undefined) fitting.push({ candidate, order: group * 100 + fit + rank - group });
  }
  fitting.sort((a, b) => a.order - b.order || (a.candidate.label < b.candidate.label ? -1 : 1));
  const span = { start: start + at - word.length, end: start + at };
  const items = fitting.slice(0, MOST).map(({ candidate }): Completion => {
    const { label, kind, detail = '', insert = label, snippet = false, name = label } = candidate;
    return { label, kind, detail, insert, snippet, span, name };
  });
  return { items, incomplete: fitting.length > MOST };
}
