import type { Declaration, Item, Mark, Setting, Unit } from '../syntax/tree.js';
import type { Span } from '../text/span.js';
import { type Analysis, unitAt } from './analysis.js';

/**
 * What can be selected around an offset, from the smallest to the file, each larger than the one
 * before: a letter, its item, the item with its repeat, with its claims and notes, the chain of
 * joined items, the inside of a bracket, the bracket, and so on out to the declaration.
 */
export function selection(analysis: Analysis, path: string, offset: number): Span[] {
  const file = analysis.file(path);
  const placed = file === undefined ? undefined : unitAt(file, offset);
  if (file === undefined || placed === undefined) return [];
  const around: Span[] = [{ start: 0, end: file.tree.text.length }];
  for (const { start, end } of new Around(placed.unit, offset - placed.start).spans()) {
    around.push({ start: placed.start + start, end: placed.start + end });
  }
  const found: Span[] = [];
  for (const span of around.reverse()) {
    const inner = found[found.length - 1];
    if (inner === undefined) found.push(span);
    else if (span.start <= inner.start && inner.end <= span.end) {
      if (span.end - span.start > inner.end - inner.start) found.push(span);
    }
  }
  return found;
}

class Around {
  private readonly found: Span[] = [];

  constructor(
    private readonly unit: Unit,
    private readonly at: number,
  ) {}

  /** From the largest to the smallest. */
  spans(): readonly Span[] {
    const { declaration, comments } = this.unit;
    const docs = comments[0]?.start ?? declaration.start;
    // With the comments above it, which belong to the declaration.
    this.add({ start: Math.min(docs, declaration.start), end: declaration.end });
    if (this.add(declaration)) this.declaration(declaration);
    this.one(comments);
    return this.found;
  }

  private add(span: Span | undefined): boolean {
    if (span === undefined || span.start > this.at || this.at > span.end) return false;
    this.found.push(span);
    return true;
  }

  /** The one of several that holds the offset; the one that begins there where two touch. */
  private one<S extends Span>(spans: readonly (S | undefined)[]): S | undefined {
    let held: S | undefined;
    for (const span of spans) {
      if (span !== undefined && span.start <= this.at && this.at <= span.end) held = span;
    }
    if (held !== undefined) this.add(held);
    return held;
  }

  private declaration(it: Declaration): void {
    switch (it.kind) {
      case 'use':
        this.text(it.path);
        break;
      case 'spot':
        this.one([it.spot, it.at]);
        this.text(it.cue);
        break;
      case 'let':
        this.one([it.name]);
        this.items(it.body);
        break;
      case 'route': {
        const starts = Array.isArray(it.from) ? (it.from as readonly { spot: Span }[]) : [];
        this.one([it.name, it.to, ...starts.map(({ spot }) => spot)]);
        this.text(it.title);
        this.items(it.body);
        break;
      }
      case 'rescue':
        this.one([it.spot, it.route, it.to]);
        this.items(it.body);
        break;
      case 'seen': {
        const row = this.one(it.rows);
        if (row === undefined) break;
        this.one([row.from, row.to]);
        this.items(row.body);
        break;
      }
      case 'ground': {
        this.one([it.name, it.within, it.to]);
        const move = this.one(it.moves);
        if (move === undefined) break;
        this.one([move.by]);
        this.items(move.body);
        break;
      }
      case 'hands':
        this.one([it.name]);
        this.setting(it.settings);
        break;
      case 'game': {
        this.text(it.title);
        this.setting(it.settings);
        const line = this.one(it.inputs);
        this.one([line?.letter, line?.target, line?.value]);
        this.text(line?.note);
        const pause = this.one(it.pauses);
        this.one([pause?.letter]);
        this.setting(pause?.settings ?? []);
        const cue = this.one(it.cues);
        this.one([cue?.frame]);
        this.text(cue?.text);
        break;
      }
      case 'broken':
        break;
    }
  }

  private setting(settings: readonly Setting[]): void {
    const setting = this.one(settings);
    if (setting === undefined) return;
    this.one([setting.key, ...setting.values, ...setting.words, setting.pace]);
  }

  /** A text with its quotes, then what is between them. */
  private text(text: Span | undefined): void {
    if (!this.add(text) || text === undefined) return;
    const closed = text.end - text.start > 1 && this.unit.text.charAt(text.end - 1) === '"';
    this.add({ start: text.start + 1, end: text.end - (closed ? 1 : 0) });
  }

  private items(items: readonly Item[]): void {
    const [first] = items;
    const last = items[items.length - 1];
    if (first === undefined || last === undefined) return;
    if (!this.add({ start: first.start, end: endOf(last) })) return;
    let at = -1;
    for (const [k, each] of items.entries()) {
      if (each.start > this.at) break;
      if (this.at <= endOf(each)) at = k;
    }
    const item = items[at];
    let from = at < 0 ? items.findIndex(({ start }) => start > this.at) : at;
    let to = from;
    while (from > 0 && (items[from]?.join ?? -1) >= 0) from--;
    while ((items[to + 1]?.join ?? -1) >= 0) to++;
    const [head, tail] = [items[from], items[to]];
    if (head !== undefined && tail !== undefined) this.add({ start: head.start, end: endOf(tail) });
    if (item !== undefined) this.item(item);
  }

  private item(item: Item): void {
    this.add({ start: item.start, end: endOf(item) });
    const mark = this.one<Mark>(item.marks);
    if (mark?.kind === 'note') this.text(mark);
    if (!this.add(item)) return;
    const { repeat } = item;
    if (repeat !== undefined) {
      const bare = this.unit.text.slice(item.start, repeat.start).trimEnd().length;
      this.add({ start: item.start, end: item.start + bare });
      if (this.at > item.start + bare) this.one([repeat]);
      this.one([repeat.until]);
    }
    switch (item.kind) {
      case 'press':
      case 'hold':
        for (let k = item.inputs.length - 1; k >= 0; k--) {
          const start = item.start + k;
          if (this.at >= start && this.add({ start, end: start + 1 })) break;
        }
        if (item.kind === 'hold') this.bracket(item);
        break;
      case 'group':
      case 'pause':
        this.bracket(item);
        break;
      case 'choose': {
        this.one([item.name]);
        const way = this.one(item.ways);
        if (way === undefined) break;
        this.one([way.name]);
        this.items(way.body);
        break;
      }
      case 'pace':
        this.one([item.pace]);
        break;
      default:
        break;
    }
  }

  private bracket({
    bodyStart,
    bodyEnd,
    body,
  }: Span & { bodyStart: number; bodyEnd: number; body: readonly Item[] }): void {
    if (!this.add({ start: bodyStart, end: bodyEnd })) return;
    this.items(body);
  }
}

function endOf(item: Item): number {
  return item.marks[item.marks.length - 1]?.end ?? item.end;
}
