import { parse } from '../syntax/parse.js';
import type { Unit } from '../syntax/tree.js';
import type { TextEdit } from '../text/edit.js';
import { UnitTree } from './workspace-tree.js';

/** Characters that are parsed in one step at least. */
const STEP = 32_768;

/** A brace at the end of one declaration, and the word that begins the next: nothing spans them. */
const SEAM = /\n\}[ \t]*\r?\n(?=\s*(?:use|game|hands|spot|let|seen|ground|route|rescue)[ \t])/g;

/** The tree of a text, parsed in steps between declarations. */
export function* parsed(text: string): Generator<undefined, UnitTree, void> {
  const units: Unit[] = [];
  for (let from = 0; from < text.length || units.length === 0;) {
    let to = text.length;
    if (text.length - from > STEP) {
      SEAM.lastIndex = from + STEP;
      const seam = SEAM.exec(text);
      if (seam !== null) to = seam.index + seam[0].length;
    }
    for (const { unit } of parse(text.slice(from, to)).units) units.push(unit);
    from = to;
    if (text.length === 0) break;
    yield;
  }
  return UnitTree.of(units);
}

/** The one edit that makes a text another one. */
export function difference(from: string, to: string): TextEdit {
  const most = Math.min(from.length, to.length);
  let start = 0;
  while (start < most && from.charCodeAt(start) === to.charCodeAt(start)) start++;
  let same = 0;
  while (
    same < most - start &&
    from.charCodeAt(from.length - 1 - same) === to.charCodeAt(to.length - 1 - same)
  ) {
    same++;
  }
  return { span: { start, end: from.length - same }, text: to.slice(start, to.length - same) };
}
