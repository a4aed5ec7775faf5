import type { Scope } from '../model/scope.js';
import { parse } from '../syntax/parse.js';
import { formatEdits } from '../syntax/print.js';
import type { Placed, SeenRow, Tree } from '../syntax/tree.js';
import { type TextEdit, applyEdits } from '../text/edit.js';
import { LIMITS } from '../text/limits.js';
import { knownOf } from './context.js';
import { readItems } from './items.js';
import {
  type Block,
  columnsOf,
  commentBehind,
  commentText,
  endOfRows,
  lineEndOf,
  rowText,
} from './layout.js';
import type { SheetProblem, Sighting } from './sheet.js';

export interface Merged {
  /** The whole file. */
  readonly text: string;
  /** Rows whose count went up. */
  readonly raised: number;
  /** Rows among those that had just the count that was added: the sheet may have been read before. */
  readonly alike: number;
  /** Rows that are new. */
  readonly added: number;
  /** Lines whose row would count beyond the exact numbers; they are left out. */
  readonly problems: readonly SheetProblem[];
}

/** Sightings of one move from one spot with one landing. */
interface Group {
  readonly first: Sighting;
  readonly lines: Sighting[];
  count: number;
}

interface Match {
  readonly block: Block;
  readonly row: SeenRow;
}

/**
 * Puts sightings into the log of a file: an identical row counts on, a new row stands at the end
 * of the last `seen` block. Nothing else changes, but that a block in the agreed layout stays in
 * it. The file must be free of syntax problems; `scope` is its own.
 */
export function mergeSightings(tree: Tree, scope: Scope, sightings: readonly Sighting[]): Merged {
  const groups = grouped(sightings);
  const blocks = blocksOf(tree);
  const matches = matchesOf(blocks, groups, scope);
  const edits: TextEdit[] = [];
  const touched = new Set<Placed>();
  const fresh: Group[] = [];
  const problems: SheetProblem[] = [];
  const raised: [Group, Match][] = [];
  for (const [key, group] of groups) {
    const match = matches.get(key);
    const total = group.count + (match?.row.count ?? 0);
    if (total > LIMITS.count) {
      const { from, to } = group.first;
      for (const { line } of group.lines) problems.push({ code: 'too-many', line, from, to });
    } else if (match === undefined) fresh.push(group);
    else raised.push([group, match]);
  }
  const last = blocks.at(-1);
  const end = lineEndOf(tree.text);
  for (const [group, { block, row }] of raised) {
    // What is added behind the last row begins a line of its own.
    const followed = fresh.length > 0 && block === last && row === last.declaration.rows.at(-1);
    edits.push(...raise(block, row, group, followed ? '' : end));
    touched.add(block.placed);
  }
  if (fresh.length > 0) {
    edits.push(append(tree, last, fresh, end));
    if (last !== undefined) touched.add(last.placed);
  }
  const tidy = new Set<number>();
  const untidy = formatEdits(tree);
  tree.units.forEach((placed, i) => {
    if (touched.has(placed) && !untidy.some((edit) => isInside(edit, placed))) tidy.add(i);
  });
  const made = fresh.length > 0 && last === undefined;
  const text = laidOut(applyEdits(tree.text, edits), tidy, made);
  const alike = raised.filter(([group, { row }]) => row.count === group.count).length;
  return { text, raised: raised.length, alike, added: fresh.length, problems };
}

function blocksOf(tree: Tree): Block[] {
  return tree.units.flatMap((placed) => {
    const { declaration } = placed.unit;
    return declaration.kind === 'seen' ? [{ placed, declaration }] : [];
  });
}

/** Ranges count by their low end in the log, but are not the same row. */
function keyOf(from: string, to: string, ids: readonly number[], written: string): string {
  const range = written.includes('..') ? written.replace(/\s+/g, '') : '';
  return `${from} ${to} ${ids.join(' ')} ${range}`;
}

function grouped(sightings: readonly Sighting[]): Map<string, Group> {
  const groups = new Map<string, Group>();
  for (const each of sightings) {
    const key = keyOf(each.from, each.to, each.ids, each.items);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, { first: each, lines: [each], count: each.count });
    else {
      group.lines.push(each);
      group.count += each.count;
    }
  }
  return groups;
}

/** The first row that says the same as each group. */
function matchesOf(
  blocks: readonly Block[],
  groups: ReadonlyMap<string, Group>,
  scope: Scope,
): Map<string, Match> {
  const { log } = knownOf(scope);
  const ends = new Set([...groups.values()].map(({ first }) => `${first.from} ${first.to}`));
  const matches = new Map<string, Match>();
  for (const block of blocks) {
    const { unit } = block.placed;
    for (const row of block.declaration.rows) {
      const from = row.from.name;
      const to = row.to?.name ?? '';
      const [first] = row.body;
      const last = row.body.at(-1);
      if (first === undefined || last === undefined || !ends.has(`${from} ${to}`)) continue;
      const items = unit.text.slice(first.start, last.end);
      const key = keyOf(from, to, log.tokensOf(row, unit), items);
      if (matches.has(key) || !groups.has(key)) continue;
      // A row with mistakes may only look the same.
      if ('ids' in readItems({ from, items, to }, scope)) matches.set(key, { block, row });
    }
  }
  return matches;
}

/** Adds to the count of a row, and its notes to the comment behind it. */
function raise(block: Block, row: SeenRow, group: Group, end: string): TextEdit[] {
  const { start, unit } = block.placed;
  const written = unit.text.slice(row.start, row.end);
  const digits = row.counted ? written.search(/[0-9]+$/) : -1;
  const from = start + (digits < 0 ? row.end : row.start + digits);
  const total = `${digits < 0 ? ' x' : ''}${row.count + group.count}`;
  const span = { start: from, end: start + row.end };
  const comment = commentBehind(block, row);
  const added = commentText(group.lines.map((line) => line.note));
  if (added === '') return [{ span, text: total }];
  if (comment === undefined) {
    const last = /^[^\S\r\n]*(?:[\r\n]|$)/.test(unit.text.slice(row.end));
    return [{ span, text: `${total}  ${added}${last ? '' : end}` }];
  }
  const said = unit.text.slice(comment.start, comment.end).trimEnd();
  const note = added.replace(/^# (note: )?/, '');
  if (said.includes(note)) return [{ span, text: total }];
  const at = start + comment.start + said.length;
  return [
    { span, text: total },
    { span: { start: at, end: at }, text: `; ${note}` },
  ];
}

/** New rows at the end of the last block, or in a block of their own at the end of the file. */
function append(
  tree: Tree,
  last: Block | undefined,
  groups: readonly Group[],
  end: string,
): TextEdit {
  const columns = last === undefined ? undefined : columnsOf(last);
  const rows = groups.map((group) => {
    const note = commentText(group.lines.map((line) => line.note));
    return rowText(columns, group.first, group.count) + (note === '' ? '' : `  ${note}`);
  });
  const { text } = tree;
  if (last === undefined) {
    const before = text === '' ? '' : /[\r\n]$/.test(text) ? end : end + end;
    const span = { start: text.length, end: text.length };
    return { span, text: `${before}seen {${end}${rows.join(end)}${end}}${end}` };
  }
  const { placed, declaration } = last;
  const at = endOfRows(last);
  const rest = placed.unit.text.slice(at, declaration.end);
  const closed = /[\r\n]/.test(rest) ? '' : end;
  const lines = rows.map((row) => end + row).join('');
  return { span: { start: placed.start + at, end: placed.start + at }, text: lines + closed };
}

function isInside({ span }: TextEdit, { start, unit }: Placed): boolean {
  return span.start >= start + unit.declaration.start && span.end <= start + unit.declaration.end;
}

/** Brings the units of these numbers into the agreed layout, and the last one where it is new. */
function laidOut(text: string, tidy: ReadonlySet<number>, made: boolean): string {
  if (tidy.size === 0 && !made) return text;
  const tree = parse(text);
  const last = tree.units.length - 1;
  const units = tree.units.filter((_, i) => tidy.has(i) || (made && i === last));
  const edits = formatEdits(tree).filter((edit) => units.some((unit) => isInside(edit, unit)));
  return applyEdits(text, edits);
}
