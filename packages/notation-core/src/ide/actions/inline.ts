import { extentOf } from '../items-at.js';
import { keepsMeaning } from './same-meaning.js';
import type { Selected } from './selected.js';
import type { Put } from './types.js';

/** Puts the items of a phrase in its place. The phrase itself stays declared. */
export function putInline(selected: Selected, put: Put): void {
  const { point, levels, items, first, end } = selected;
  const item = items[first];
  if (end !== first + 1 || item?.kind !== 'phrase') return;
  const phrase = point.scope.phrases.get(item.name);
  const [head, ...rest] = phrase?.declaration.body ?? [];
  if (phrase === undefined || head === undefined) return;
  const last = rest[rest.length - 1] ?? head;
  let text = phrase.unit.text.slice(head.start, extentOf(last).end);
  const alone = rest.length === 0 && head.repeat === undefined && head.marks.length === 0;
  const paced = [head, ...rest].some(({ kind }) => kind === 'pace');
  if (paced || (item.repeat !== undefined && !(alone && head.kind !== 'choose')))
    text = `(${text})`;
  const { start } = point;
  const edits = [{ span: { start: start + item.start, end: start + item.nameEnd }, text }];
  if (!keepsMeaning(point, levels, edits)) return;
  put({ title: `Write ${item.name} out`, kind: 'inline', safety: 'safe', edits });
}
