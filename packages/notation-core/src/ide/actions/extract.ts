import type { SourceFile } from '../../model/program.js';
import type { Scope } from '../../model/scope.js';
import type { Placed } from '../../syntax/tree.js';
import { oneLine } from '../words.js';
import { keepsMeaning } from './same-meaning.js';
import { type Selected, textOf } from './selected.js';
import type { Put } from './types.js';

/** Makes a phrase of the selected items, declared in front of the declaration that they are in. */
export function putExtract(selected: Selected, put: Put): void {
  const { point, levels, items, first, end } = selected;
  const { unit, start, scope, file } = point;
  const chosen = items.slice(first, end);
  const [head] = chosen;
  const last = chosen[chosen.length - 1];
  if (head === undefined || last === undefined) return;
  if (chosen.some(({ kind }) => kind === 'pace' || kind === 'mark')) return;
  // A phrase alone is one already.
  if (chosen.length === 1 && (head.kind === 'phrase' || !selected.marked)) return;
  const name = freeName(scope);
  const body = textOf(point, chosen, false);
  const place = placeInFront(file, { unit, start });
  const eol = file.tree.text.includes('\r\n') ? '\r\n' : '\n';
  const declaration = `${place.fresh ? '' : eol}let ${name} = ${body}${eol}${eol}`;
  const edits = [
    { span: { start: place.at, end: place.at }, text: declaration },
    { span: { start: start + head.start, end: start + last.end }, text: name },
  ];
  if (!keepsMeaning(point, levels, edits)) return;
  const from = place.at + declaration.indexOf('let ') + 4;
  const placeholder = { start: from, end: from + name.length };
  put({ title: `Make a phrase of ${oneLine(body, 40)}`, kind: 'extract', safety: 'safe', edits, placeholder }); // prettier-ignore
}

function freeName({ phrases, routes }: Scope): string {
  for (let n = 1; ; n++) {
    const name = n === 1 ? 'part' : `part${n}`;
    if (!phrases.has(name) && !routes.has(name)) return name;
  }
}

/** In front of a declaration and the comments that belong to it; `fresh` at the start of a line. */
export function placeInFront(
  { tree }: SourceFile,
  { unit, start }: Placed,
): { at: number; fresh: boolean } {
  const head = unit.text.slice(0, unit.declaration.start);
  const blank = [...head.matchAll(/(?:^|\r\n|\n|\r)[^\S\r\n]*(?=\r\n|\n|\r)(?:\r\n|\n|\r)/g)].pop();
  let at = start + (blank === undefined ? 0 : blank.index + blank[0].length);
  while (/[^\S\r\n]/.test(tree.text.charAt(at))) at++;
  const before = tree.text.charAt(at - 1);
  const line = tree.text.slice(tree.text.lastIndexOf('\n', at - 1) + 1, at);
  return { at, fresh: at === 0 || /[\r\n]/.test(before) || line.trim() === '' };
}
