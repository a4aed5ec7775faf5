import type { Item, PressItem, WaitItem } from '../../syntax/tree.js';
import { oneLine } from '../words.js';
import { keepsMeaning } from './same-meaning.js';
import { hasComment, type Selected, textOf } from './selected.js';
import type { Put } from './types.js';

/** Joins and splits: waits and presses into one and apart, which changes nothing, and `-`, which does. */
export function putJoins(selected: Selected, put: Put): void {
  const { items, first, end, marked } = selected;
  const at = marked ? end - 1 : first;
  const item = items[at];
  const before = items[at - 1];
  if (marked && end - first !== 2) return;
  if (item !== undefined && before !== undefined) {
    merge(selected, before, item, put);
    join(selected, before, item, put);
    if (!marked) split(selected, before, item, put);
  }
  if (item !== undefined && !marked) parts(selected, item, put);
}

/** `.2 .3` is `.5`, and `D2-D3` is `D5`. */
function merge(selected: Selected, before: Item, item: Item, put: Put): void {
  const { point, levels } = selected;
  if (!counted(before) || !counted(item) || before.marks.length > 0) return;
  if (before.kind !== item.kind || hasComment(point, before.start, item.end)) return;
  if (item.kind === 'press' && (item.join < 0 || headOf(before) !== headOf(item))) return;
  const text = `${headOf(item)}${before.count.lo + item.count.lo}`;
  const span = { start: point.start + before.start, end: point.start + item.end };
  const edits = [{ span, text }];
  if (!keepsMeaning(point, levels, edits)) return;
  put({ title: `Join into ${text}`, kind: 'rewrite', safety: 'safe', edits });
}

/** A space becomes `-`. */
function join(selected: Selected, before: Item, item: Item, put: Put): void {
  const { point, levels } = selected;
  if (item.join >= 0 || before.marks.length > 0 || hasComment(point, before.end, item.start))
    return;
  if (!JOINED.has(item.kind) || !JOINED.has(before.kind)) return;
  const span = { start: point.start + before.end, end: point.start + item.start };
  const edits = [{ span, text: '-' }];
  if (!keepsMeaning(point, levels, edits, false)) return;
  const words = oneLine(textOf(point, [item], false), 20);
  put({ title: `Join ${words} to the item before (changes timing)`, kind: 'rewrite', safety: 'changes-timing', edits }); // prettier-ignore
}

const JOINED = new Set<Item['kind']>(['press', 'pause', 'hold']);

/** A `-` becomes a space. */
function split(selected: Selected, before: Item, item: Item, put: Put): void {
  const { point, levels } = selected;
  if (item.join < 0 || hasComment(point, before.end, item.start)) return;
  const { text } = point.unit;
  if (text.slice(before.end, item.start).trim() !== '-') return;
  const span = { start: point.start + before.end, end: point.start + item.start };
  const edits = [{ span, text: ' ' }];
  if (!keepsMeaning(point, levels, edits, false)) return;
  const words = oneLine(textOf(point, [item], false), 20);
  put({ title: `Split ${words} from the item before (changes timing)`, kind: 'rewrite', safety: 'changes-timing', edits }); // prettier-ignore
}

/** `.5` is `.1 .4`: a place for a note or a press. */
function parts(selected: Selected, item: Item, put: Put): void {
  const { point, levels } = selected;
  if (item.kind !== 'wait' || !counted(item) || item.count.lo < 2 || item.join >= 0) return;
  const text = `.1 .${item.count.lo - 1}`;
  const span = { start: point.start + item.start, end: point.start + item.end };
  const edits = [{ span, text }];
  if (!keepsMeaning(point, levels, edits)) return;
  put({ title: `Split into ${text}`, kind: 'rewrite', safety: 'safe', edits });
}

/** A wait or a press of so many frames, and nothing else. */
function counted(item: Item): item is PressItem | WaitItem {
  if (item.kind !== 'press' && item.kind !== 'wait') return false;
  const { lo, hi, unit } = item.count;
  return item.repeat === undefined && lo === hi && unit === 'frames';
}

function headOf(item: PressItem | WaitItem): string {
  return item.kind === 'press' ? item.inputs : '.';
}
