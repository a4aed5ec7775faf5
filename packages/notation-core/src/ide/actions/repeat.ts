import type { Item } from '../../syntax/tree.js';
import { oneLine } from '../words.js';
import { keepsMeaning } from './same-meaning.js';
import { hasComment, type Selected, textOf } from './selected.js';
import type { Put } from './types.js';

/** More times than this are not written out. */
const MOST = 40;

/** Items that come again and again as `*n`. */
export function putFold(selected: Selected, put: Put): void {
  const { point, levels, items } = selected;
  const { first, end } = selected.marked ? selected : alike(selected);
  const chosen = items.slice(first, end);
  const { length } = chosen;
  const [head] = chosen;
  const last = chosen[length - 1];
  if (length < 2 || head === undefined || last === undefined) return;
  if (hasComment(point, head.start, last.end) || chosen.slice(0, -1).some(({ marks }) => marks.length > 0)) return; // prettier-ignore
  for (let period = 1; period <= length / 2; period++) {
    if (length % period !== 0 || !comesAgain(selected, chosen, period)) continue;
    const one = textOf(point, chosen.slice(0, period), false);
    const simple = period === 1 && head.repeat === undefined && head.kind !== 'choose';
    const text = `${simple ? one : `(${one.replace(/\s+/g, ' ')})`}*${length / period}`;
    const span = { start: point.start + head.start, end: point.start + last.end };
    const edits = [{ span, text }];
    if (keepsMeaning(point, levels, edits)) {
      put({ title: `Write ${oneLine(text, 40)}`, kind: 'rewrite', safety: 'safe', edits });
    }
    return;
  }
}

/** The items around the cursor that are written like the one at it. */
function alike({ point, items, first }: Selected): { first: number; end: number } {
  const written = (i: number): string | undefined => {
    const item = items[i];
    return item && textOf(point, [item], false);
  };
  const one = written(first);
  let [from, end] = [first, first + 1];
  const parted = (i: number): boolean => (items[i]?.marks.length ?? 1) > 0;
  while (from > 0 && written(from - 1) === one && !parted(from - 1)) from--;
  while (end < items.length && written(end) === one && !parted(end - 1)) end++;
  return { first: from, end };
}

function comesAgain({ point }: Selected, chosen: readonly Item[], period: number): boolean {
  return chosen.every((item, i) => {
    const before = chosen[i - period];
    if (item.kind === 'mark' || item.kind === 'pace') return false;
    if (before === undefined) return i < period && (i === 0 || item.join < 0);
    return item.join < 0 && textOf(point, [item], false) === textOf(point, [before], false);
  });
}

/** `U*3` as `U U U`. */
export function putUnfold(selected: Selected, put: Put): void {
  const { point, levels, items, first, end } = selected;
  const item = items[first];
  if (end !== first + 1 || item?.repeat === undefined) return;
  const { lo, hi, open, start } = item.repeat;
  if (open || lo !== hi || lo < 2 || lo > MOST) return;
  if (hasComment(point, item.start, item.end)) return;
  const { text } = point.unit;
  const bare = item.kind === 'group' && !item.body.some(({ kind }) => kind === 'pace');
  const one = bare ? text.slice(item.bodyStart, item.bodyEnd).trim() : text.slice(item.start, start).trim(); // prettier-ignore
  const span = { start: point.start + item.start, end: point.start + item.end };
  const edits = [{ span, text: new Array<string>(lo).fill(one).join(' ') }];
  if (one === '' || !keepsMeaning(point, levels, edits)) return;
  put({ title: `Write ${oneLine(text.slice(item.start, item.end), 30)} out`, kind: 'rewrite', safety: 'safe', edits }); // prettier-ignore
}
