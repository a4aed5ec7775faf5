import { reparse } from '../syntax/parse.js';
import type { Placed, Tree, Unit } from '../syntax/tree.js';
import { endsLine } from '../rules/pieces.js';
import type { TextEdit } from '../text/edit.js';

/**
 * The tree of a text that is edited: its units in blocks, so that a keystroke costs as much in a
 * long file as in a short one. A tree never changes; an edit makes another one, which shares every
 * block but those that the edit touches. `text` and `units` are put together when they are asked for.
 */
export class UnitTree implements Tree {
  readonly blocks: readonly Block[];
  /** Where each block begins, and the length of the text. */
  readonly starts: readonly number[];
  /** How many units stand in front of each block, and all of them. */
  readonly counts: readonly number[];
  #text: string | undefined;
  #units: readonly Placed[] | undefined;

  constructor(blocks: readonly Block[]) {
    const starts = [0];
    const counts = [0];
    let start = 0;
    let count = 0;
    for (const block of blocks) {
      starts.push((start += block.length));
      counts.push((count += block.units.length));
    }
    this.blocks = blocks;
    this.starts = starts;
    this.counts = counts;
  }

  static of(units: readonly Unit[]): UnitTree {
    return new UnitTree(blocksOf(units));
  }

  get length(): number {
    return this.starts[this.blocks.length] ?? 0;
  }

  get unitCount(): number {
    return this.counts[this.blocks.length] ?? 0;
  }

  get text(): string {
    return (this.#text ??= this.blocks
      .map(({ units }) => units.map(({ text }) => text).join(''))
      .join(''));
  }

  get units(): readonly Placed[] {
    if (this.#units !== undefined) return this.#units;
    const units: Placed[] = [];
    let start = 0;
    for (const block of this.blocks) {
      for (const unit of block.units) {
        units.push({ start, unit });
        start += unit.text.length;
      }
    }
    return (this.#units = units);
  }

  /** The index of the last unit that begins at the offset or in front of it, and where it begins. */
  indexAt(offset: number): { readonly index: number; readonly start: number } {
    const b = lastUpTo(this.starts, offset, this.blocks.length);
    const block = this.blocks[b];
    let index = this.counts[b] ?? 0;
    let start = this.starts[b] ?? 0;
    const { units = [] } = block ?? {};
    for (let k = 0; k + 1 < units.length; k++) {
      const next = start + (units[k]?.text.length ?? 0);
      if (next > offset) break;
      start = next;
      index++;
    }
    return { index, start };
  }

  unit(index: number): Unit | undefined {
    const b = lastUpTo(this.counts, index, this.blocks.length);
    return this.blocks[b]?.units[index - (this.counts[b] ?? 0)];
  }

  /** Where a unit of a block begins; -1 where the block is not of this tree. */
  startIn(block: Block, unit: Unit): number {
    const b = this.blocks.indexOf(block);
    if (b < 0) return -1;
    return (this.starts[b] ?? 0) + block.startOf(unit);
  }

  /** The tree with units `first` to `last` (included) replaced; the blocks that are new to it. */
  spliced(first: number, last: number, units: readonly Unit[]): { tree: UnitTree; made: Block[] } {
    let from = lastUpTo(this.counts, first, this.blocks.length);
    let to = lastUpTo(this.counts, last, this.blocks.length);
    const front = this.blocks[from]?.units.slice(0, first - (this.counts[from] ?? 0)) ?? [];
    const back = this.blocks[to]?.units.slice(last + 1 - (this.counts[to] ?? 0)) ?? [];
    let all = [...front, ...units, ...back];
    // Blocks that have become small are taken together.
    if (all.length < SMALL && from > 0) all = [...(this.blocks[--from]?.units ?? []), ...all];
    if (all.length < SMALL && to + 1 < this.blocks.length) {
      all = [...all, ...(this.blocks[++to]?.units ?? [])];
    }
    const made = blocksOf(all);
    const { blocks } = this;
    return {
      tree: new UnitTree([...blocks.slice(0, from), ...made, ...blocks.slice(to + 1)]),
      made,
    };
  }
}

/** Some units that follow one another. A block begins where a line begins. */
export class Block {
  readonly length: number;

  constructor(readonly units: readonly Unit[]) {
    this.length = units.reduce((sum, { text }) => sum + text.length, 0);
  }

  startOf(unit: Unit): number {
    let start = 0;
    for (const each of this.units) {
      if (each === unit) return start;
      start += each.text.length;
    }
    return -1;
  }
}

const FULL = 48;
const SMALL = 12;

function blocksOf(units: readonly Unit[]): Block[] {
  const blocks: Block[] = [];
  const parts = Math.max(1, Math.ceil(units.length / FULL));
  const size = Math.ceil(units.length / parts);
  let from = 0;
  while (from < units.length) {
    let to = Math.min(units.length, from + size);
    while (to < units.length && !endsLine(units[to - 1])) to++;
    blocks.push(new Block(units.slice(from, to)));
    from = to;
  }
  return blocks;
}

/** The last of the first `count` numbers that is at most `value`. */
function lastUpTo(numbers: readonly number[], value: number, count: number): number {
  let low = 0;
  let high = count;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((numbers[middle] ?? 0) <= value) low = middle;
    else high = middle;
  }
  return low;
}

/** What an edit has done to a tree. Units that are still what they were are the same objects. */
export interface Edited {
  readonly tree: UnitTree;
  readonly removed: readonly Unit[];
  readonly added: readonly Unit[];
  readonly made: readonly Block[];
}

/** How much of the unit at each end of a window is looked at: what a parse may look back or ahead. */
const EDGE = 256;

/**
 * The tree after an edit. Only a window around the edit is parsed: units on both sides of it must
 * come out of the parse as they went in, otherwise the window was too small and is widened.
 * Whatever a fresh unit keeps of the text it keeps of the window, never of the whole file.
 */
export function edited(tree: UnitTree, edit: TextEdit): Edited {
  const count = tree.unitCount;
  const begin = tree.indexAt(edit.span.start);
  const end = tree.indexAt(edit.span.end);
  for (let margin = 1; ; margin *= 4) {
    const first = Math.max(0, begin.index - margin);
    const last = Math.min(count - 1, end.index + margin);
    const units: Unit[] = [];
    for (let k = first; k <= last; k++) {
      const unit = tree.unit(k);
      if (unit === undefined) continue;
      const cut = (k === first && k > 0) || (k === last && k < count - 1);
      units.push(cut ? edgeOf(unit, k === first) : unit);
    }
    const placed: Placed[] = [];
    let length = 0;
    for (const unit of units) {
      placed.push({ start: length, unit });
      length += unit.text.length;
    }
    // The window's offset in the file: that of a unit near the edit, less its place in the window.
    const offset = begin.start - (placed[begin.index - first]?.start ?? 0);
    const text = units.map((unit) => unit.text).join('');
    const span = { start: edit.span.start - offset, end: edit.span.end - offset };
    const after = reparse({ text, units: placed }, { span, text: edit.text }).units;
    if (first > 0 && after[0]?.unit !== units[0]) continue;
    if (last < count - 1 && after[after.length - 1]?.unit !== units[units.length - 1]) continue;
    return splice(tree, first, units, after.map(({ unit }) => unit)); // prettier-ignore
  }
}

/** A unit that only stands for itself: its last or first characters. */
function edgeOf(unit: Unit, isFirst: boolean): Unit {
  if (unit.text.length <= EDGE) return { ...unit };
  const text = isFirst ? unit.text.slice(-EDGE) : unit.text.slice(0, EDGE);
  return { ...unit, text };
}

function splice(
  tree: UnitTree,
  first: number,
  before: readonly Unit[],
  after: readonly Unit[],
): Edited {
  let same = 0;
  const most = Math.min(before.length, after.length);
  const result = [...after];
  while (same < most && isSame(before[same], after[same])) same++;
  let sameEnd = 0;
  while (
    sameEnd < most - same &&
    isSame(before[before.length - 1 - sameEnd], after[after.length - 1 - sameEnd])
  ) {
    sameEnd++;
  }
  const removed = before.slice(same, before.length - sameEnd);
  const added = result.slice(same, result.length - sameEnd);
  if (removed.length === 0 && added.length === 0) return { tree, removed, added, made: [] };
  if (removed.length > 0) {
    const from = first + same;
    return { ...tree.spliced(from, from + removed.length - 1, added), removed, added };
  }
  // Nothing goes: what comes in is put with the unit in front of it, or behind it.
  const at = same > 0 ? same - 1 : same;
  const beside = tree.unit(first + at);
  const list = beside === undefined ? added : same > 0 ? [beside, ...added] : [...added, beside];
  return { ...tree.spliced(first + at, first + at, list), removed, added };
}

/** Whether a unit came out of the parse as it went in, though it may have been parsed again. */
function isSame(a: Unit | undefined, b: Unit | undefined): boolean {
  if (a === b) return true;
  return a !== undefined && b !== undefined && a.text === b.text && equal(a, b);
}

/** Plain data: what a tree is made of. */
export function equal(a: unknown, b: unknown): boolean {
  if (a === b) return true;
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false;
  const keys = Object.keys(a);
  if (keys.length !== Object.keys(b).length) return false;
  return keys.every((key) => equal(Reflect.get(a, key), Reflect.get(b, key)));
}
