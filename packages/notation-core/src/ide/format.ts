import { lastLine, piecesOf } from '../syntax/print/pieces.js';
import { formatEdits } from '../syntax/print.js';
import * as T from '../syntax/tokens.js';
import type { Placed } from '../syntax/tree.js';
import type { TextEdit } from '../text/edit.js';
import type { SourceFile } from '../model/program.js';
import { type Analysis, unitAt } from './analysis.js';
import { countFrom } from './items-at.js';

/** After these a stretch is laid out while it is written. */
export const FORMAT_TRIGGERS = ['\n', '}', ']', ')'] as const;

/** The edits that bring a file into the agreed layout. Only white space changes. */
export function formatFile(analysis: Analysis, path: string): readonly TextEdit[] {
  const file = analysis.file(path);
  return file === undefined ? [] : formatEdits(file.tree);
}

/** The same for the whole lines of a stretch; nothing outside of them changes. */
export function formatRange(
  analysis: Analysis,
  path: string,
  from: number,
  to: number,
): readonly TextEdit[] {
  const file = analysis.file(path);
  if (file === undefined) return [];
  const { text } = file.tree;
  const start = lineStart(text, Math.max(0, from));
  let end = Math.min(to, text.length);
  while (end < text.length && !/[\r\n]/.test(text.charAt(end))) end++;
  return editsWithin(file, start, end);
}

/**
 * After a sign was typed at an offset (it stands in front of it): a line end gets the next line
 * its indentation; a bracket that closes lays out the lines of its declaration, which it ended.
 */
export function formatOnType(
  analysis: Analysis,
  path: string,
  offset: number,
  typed: string,
): readonly TextEdit[] {
  const file = analysis.file(path);
  const placed = file === undefined ? undefined : unitAt(file, Math.max(0, offset - 1));
  if (file === undefined || placed === undefined) return [];
  if (typed === '\n') return indentation(file, offset);
  if (!FORMAT_TRIGGERS.some((sign) => sign === typed)) return [];
  const { unit, start } = placed;
  const piece = piecesOf(unit).find((each) => each.end === offset - start);
  // Inside a text or a comment a bracket is none.
  if (piece?.text !== typed) return [];
  const from = start + unit.declaration.start;
  // What is behind the bracket is still to be written.
  return formatRange(analysis, path, from, offset).filter(({ span }) => span.start < offset);
}

/** Edits that begin and end between two places. What cannot be read stays as it is. */
function editsWithin(file: SourceFile, from: number, to: number): readonly TextEdit[] {
  const { text, units } = file.tree;
  const first = Math.max(0, countFrom(units, from) - 2);
  let end = first;
  while (end < units.length && (units[end]?.start ?? 0) <= to) end++;
  const part = { text, units: units.slice(first, end) };
  return formatEdits(part).flatMap((edit) => cut(edit, text, from, to));
}

/**
 * The part of an edit that is between two places, which are at the ends of lines: of a gap that
 * begins in front of them the indentation of its last line, of one that ends behind them the
 * blanks in front of its first line end.
 */
function cut({ span, text: wanted }: TextEdit, text: string, from: number, to: number): TextEdit[] {
  const { start, end } = span;
  if (start >= from && end <= to) return [{ span, text: wanted }];
  const written = text.slice(start, end);
  if (!/[\r\n]/.test(written) || !/[\r\n]/.test(wanted)) return [];
  if (start < from && end >= from && end <= to) {
    const blanks = lastLine(written);
    const text = lastLine(wanted);
    return blanks === text ? [] : [{ span: { start: end - blanks.length, end }, text }];
  }
  if (start < from || start > to) return [];
  const blanks = /^[^\r\n]*/.exec(written)?.[0].length ?? 0;
  return blanks === 0 ? [] : [{ span: { start, end: start + blanks }, text: '' }];
}

/** The blanks that the line of an offset begins with, by the brackets that are open there. */
function indentation(file: SourceFile, offset: number): readonly TextEdit[] {
  const { text } = file.tree;
  const start = lineStart(text, offset);
  let end = start;
  while (/[ \t]/.test(text.charAt(end))) end++;
  const before = unitAt(file, Math.max(0, start - 1));
  if (before === undefined) return [];
  const closes = /^[})\]]/.test(text.slice(end, end + 1)) ? 1 : 0;
  const depth = Math.max(0, depthAt(before, start) - closes);
  const wanted = '  '.repeat(depth);
  return text.slice(start, end) === wanted ? [] : [{ span: { start, end }, text: wanted }];
}

function depthAt({ unit, start }: Placed, offset: number): number {
  let depth = 0;
  for (const { start: at, type } of piecesOf(unit)) {
    if (at + start >= offset) break;
    if (type === T.LeftBrace || type === T.LeftParen || type === T.LeftSquare) depth++;
    else if (type === T.RightBrace || type === T.RightParen || type === T.RightSquare) depth--;
  }
  return depth;
}

function lineStart(text: string, offset: number): number {
  if (offset <= 0) return 0;
  return Math.max(text.lastIndexOf('\n', offset - 1), text.lastIndexOf('\r', offset - 1)) + 1;
}
