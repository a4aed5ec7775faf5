import { framesOf } from '../../model/count.js';
import type { Item, PressItem, WaitItem } from '../../syntax/tree.js';
import { keepsMeaning } from './same-meaning.js';
import type { Selected } from './selected.js';
import type { Put } from './types.js';

/** A length in time as a count of frames, where it is a whole number of them. */
export function putMilliseconds(selected: Selected, put: Put): void {
  const { point, levels, items, first, end } = selected;
  if (end !== first + 1) return;
  const item = timedOf(items[first]);
  if (item?.count.unit !== 'microseconds') return;
  const frames = framesOf(item.count, point.scope.game.clock);
  if (!frames.ok || point.scope.games.length === 0) return;
  const head = item.kind === 'press' ? item.inputs : '.';
  const count = frames.lo === frames.hi ? String(frames.lo) : `${frames.lo}..${frames.hi}`;
  const written = /^[0-9.]+(?:ms|s)/.exec(
    point.unit.text.slice(item.start + head.length, item.end),
  );
  if (written === null) return;
  const start = point.start + item.start + head.length;
  const edits = [{ span: { start, end: start + written[0].length }, text: count }];
  if (!keepsMeaning(point, levels, edits)) return;
  put({ title: `Write ${head}${count}`, kind: 'rewrite', safety: 'safe', edits });
}

function timedOf(item: Item | undefined): PressItem | WaitItem | undefined {
  if (item?.kind === 'press' || item?.kind === 'wait') return item;
  return item?.kind === 'pace' && item.pace?.kind === 'wait' ? item.pace : undefined;
}
