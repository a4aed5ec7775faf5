import { applyEdits, type TextEdit } from '../text/edit.js';
import { align } from './print/columns.js';
import { entriesOf, separators } from './print/entries.js';
import { lineGaps } from './print/lines.js';
import { countBreaks, keptGap, lastLine, piecesOf, type Piece } from './print/pieces.js';
import { outline } from './print/spaces.js';
import type { Tree, Unit } from './tree.js';

/**
 * The text of a tree in the one agreed layout, ending in one LF; empty where the tree holds
 * nothing. Only white space changes, so no token and no comment can be lost, and the text
 * parses to the same tree. A declaration with problems stays as it was written.
 */
export function format(tree: Tree): string {
  return applyEdits(tree.text, formatEdits(tree));
}

/** The edits that bring the text of a tree into the agreed layout: one a stretch of white space. */
export function formatEdits(tree: Tree): TextEdit[] {
  const { text } = tree;
  const edits: TextEdit[] = [];
  let end = 0;
  let before: Before = 'nothing';
  const put = (start: number, wanted: string) => {
    if (text.slice(end, start) !== wanted)
      edits.push({ span: { start: end, end: start }, text: wanted });
  };
  for (const { start, unit } of tree.units) {
    const pieces = piecesOf(unit);
    const laid = layout(unit, pieces);
    for (let k = 0; k < pieces.length; k++) {
      const piece = pieces[k];
      if (piece === undefined) continue;
      const at = start + piece.start;
      const gap = k > 0 ? laid?.[k] : firstGap(text.slice(end, at), laid !== undefined, before);
      put(at, gap ?? keptGap(text.slice(end, at)));
      end = start + piece.end;
    }
    if (pieces.length > 0) before = laid !== undefined ? 'tidy' : 'kept';
  }
  put(text.length, before === 'nothing' ? '' : '\n');
  return edits;
}

type Before = 'nothing' | 'tidy' | 'kept';

/**
 * Between two declarations: a line end, and the blank line where one was written. What stands
 * as it was written keeps its indentation and what follows it on its line too, since a
 * misspelled word is known by both.
 */
function firstGap(gap: string, tidy: boolean, before: Before): string {
  if (before === 'nothing') return tidy ? '' : keptGap(gap.replace(/^\ufeff+/, ''));
  const breaks = countBreaks(gap, 0, gap.length);
  if (breaks === 0 && before === 'kept') return gap;
  const lines = breaks > 1 ? '\n\n' : '\n';
  return tidy || breaks === 0 ? lines : lines + lastLine(gap);
}

/** The gaps of a unit in the agreed layout; undefined where it has to stay as it is. */
function layout(unit: Unit, pieces: readonly Piece[]): string[] | undefined {
  if (unit.problems.length > 0) return undefined;
  const { declaration } = unit;
  const entries = entriesOf(declaration, pieces);
  const o = outline(pieces, declaration.kind, separators(entries));
  if (o === undefined) return undefined;
  const { gaps, laid } = lineGaps(declaration.kind, o, entries);
  align(gaps, o, laid);
  return gaps;
}
