import type { Choices } from '../model/resolve.js';
import type { SourceFile } from '../model/program.js';
import type { Scope } from '../model/scope.js';
import type { Declaration, Item, Placed, Unit, Way } from '../syntax/tree.js';
import { type Analysis, unitAt } from './analysis.js';

/** An offset with all that belongs to it. */
export interface Point {
  readonly analysis: Analysis;
  readonly file: SourceFile;
  readonly scope: Scope;
  readonly unit: Unit;
  /** Where the unit begins in the file. */
  readonly start: number;
  /** The offset, counted from the start of the unit. */
  readonly at: number;
}

/** One list of items around a place; the next level is inside of `item`. */
export interface Level {
  readonly items: readonly Item[];
  /** How many items begin in front of the place; the last of them is `item` where it is hit. */
  readonly before: number;
  readonly item: Item | undefined;
  readonly context: 'run' | 'hold' | 'pause';
  /** The way of `item` that the next level is in, where `item` is a choose. */
  readonly way: Way | undefined;
}

/** A sequence that a declaration holds, and where it is. */
export interface Body {
  readonly items: readonly Item[];
  /** The spot that it begins at, where the declaration says so. */
  readonly from: string | undefined;
  readonly mayChoose: boolean;
}

export function pointAt(analysis: Analysis, path: string, offset: number): Point | undefined {
  const file = analysis.file(path);
  if (file === undefined) return undefined;
  const placed = unitAt(file, Math.max(0, Math.min(offset, file.tree.text.length)));
  return placed === undefined ? undefined : pointIn(analysis, file, placed, offset);
}

export function pointIn(
  analysis: Analysis,
  file: SourceFile,
  { unit, start }: Placed,
  offset: number,
): Point {
  return { analysis, file, scope: analysis.scope(file), unit, start, at: offset - start };
}

/** The sequence at a place: of a log or a ground the row that is on it. */
export function bodyAt(declaration: Declaration, at: number): Body | undefined {
  switch (declaration.kind) {
    case 'let':
    case 'route':
      return { items: declaration.body, from: undefined, mayChoose: true };
    case 'rescue':
      return { items: declaration.body, from: declaration.spot?.name, mayChoose: true };
    case 'seen': {
      const row = lastFrom(declaration.rows, at);
      return row && { items: row.body, from: row.from.name, mayChoose: false };
    }
    case 'ground': {
      const move = lastFrom(declaration.moves, at);
      return move && { items: move.body, from: undefined, mayChoose: false };
    }
    default:
      return undefined;
  }
}

/** The levels of items around a place, the outermost first. A place touches both its neighbours. */
export function levelsAt(items: readonly Item[], at: number): readonly Level[] {
  const levels: Level[] = [];
  let inside: readonly Item[] | undefined = items;
  let context: Level['context'] = 'run';
  while (inside !== undefined) {
    const before = countFrom(inside, at);
    const last: Item | undefined = inside[before - 1];
    const item: Item | undefined =
      last !== undefined && at <= extentOf(last).end ? last : undefined;
    const way: Way | undefined =
      item?.kind === 'choose'
        ? lastFrom(
            item.ways.filter(({ end }) => at <= end),
            at,
          )
        : undefined;
    levels.push({ items: inside, before, item, context, way });
    inside = undefined;
    if (item === undefined) break;
    if (way !== undefined && at > way.name.end) inside = way.body;
    if (item.kind !== 'group' && item.kind !== 'pause' && item.kind !== 'hold') continue;
    if (at < item.bodyStart || at > item.bodyEnd) continue;
    inside = item.body;
    if (item.kind === 'pause') context = 'pause';
    else if (item.kind === 'hold' && context === 'run') context = 'hold';
  }
  return levels;
}

/** The ways that lead to a place. */
export function choicesTo(levels: readonly Level[]): Choices {
  const choices = new Map<string, string>();
  for (const { item, way } of levels) {
    if (item?.kind !== 'choose' || item.name === undefined || way === undefined) continue;
    choices.set(item.name.name, way.name.name);
  }
  return choices;
}

/** An item with its marks. */
export function extentOf(item: Item): { start: number; end: number } {
  const end = item.marks[item.marks.length - 1]?.end ?? item.end;
  return { start: item.start, end: Math.max(end, item.end) };
}

/** The items of a chain of joined ones around an index. */
export function chainAt(items: readonly Item[], index: number): readonly Item[] {
  let first = index;
  while (first > 0 && (items[first]?.join ?? -1) >= 0) first--;
  let end = index + 1;
  while ((items[end]?.join ?? -1) >= 0) end++;
  return items.slice(first, end);
}

/** How many of the things, which are in order, begin at the place or in front of it. */
export function countFrom(things: readonly { readonly start: number }[], at: number): number {
  let low = 0;
  let high = things.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((things[middle]?.start ?? 0) <= at) low = middle + 1;
    else high = middle;
  }
  return low;
}

function lastFrom<T extends { readonly start: number }>(
  things: readonly T[],
  at: number,
): T | undefined {
  return things[countFrom(things, at) - 1];
}
