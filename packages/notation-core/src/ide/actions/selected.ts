import type { Item } from '../../syntax/tree.js';
import { type Body, bodyAt, extentOf, type Level, levelsAt, type Point } from '../items-at.js';

/** Items of one list that are selected, or the one that the cursor touches. */
export interface Selected {
  readonly point: Point;
  readonly body: Body;
  /** The list that they are in is that of the last level. */
  readonly levels: readonly Level[];
  readonly items: readonly Item[];
  /** Those from `first` up to, not including, `end`. */
  readonly first: number;
  readonly end: number;
  /** Whether somebody selected them, rather than only standing there. */
  readonly marked: boolean;
}

/** `to` counts from the start of the unit, like `point.at`. */
export function selectedAt(point: Point, to: number): Selected | undefined {
  const { unit, at } = point;
  const body = bodyAt(unit.declaration, at);
  if (body === undefined) return undefined;
  const levels = levelsAt(body.items, at);
  if (to <= at) {
    const kept = levels.filter(({ item }) => item !== undefined);
    const level = kept[kept.length - 1];
    if (level === undefined) return undefined;
    const first = level.before - 1;
    return { point, body, levels: kept, items: level.items, first, end: first + 1, marked: false };
  }
  const ends = levelsAt(body.items, to);
  let depth = 0;
  while (levels[depth + 1] !== undefined && levels[depth + 1]?.items === ends[depth + 1]?.items) {
    depth++;
  }
  const items = levels[depth]?.items ?? [];
  const first = items.findIndex(({ start }) => start >= at);
  if (first < 0) return undefined;
  let end = first;
  for (let item = items[end]; item !== undefined && item.end <= to; item = items[end]) end++;
  // Half an item is none.
  const before = items[first - 1];
  const cut = (before !== undefined && before.end > at) || (items[end]?.start ?? Infinity) < to;
  if (end === first || cut) return undefined;
  return { point, body, levels: levels.slice(0, depth + 1), items, first, end, marked: true };
}

/** Whether a comment stands between two places of the unit. */
export function hasComment({ unit }: Point, from: number, to: number): boolean {
  return unit.comments.some(({ start, end }) => start < to && end > from);
}

/** The items as they are written, with the marks of the last as far as they are wanted. */
export function textOf({ unit }: Point, items: readonly Item[], marks: boolean): string {
  const last = items[items.length - 1];
  if (last === undefined) return '';
  return unit.text.slice(items[0]?.start, marks ? extentOf(last).end : last.end);
}
