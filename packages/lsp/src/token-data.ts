import type { SourceFile } from '@tiptoe/notation-core';
import type { View } from './view.js';
import type { Steps } from './work.js';

export interface Span {
  readonly start: number;
  readonly end: number;
}

type Unit = SourceFile['tree']['units'][number]['unit'];

/**
 * Tokens as the protocol sends them: five numbers each, line and column counted from the token
 * before. `tokensOf` gives three numbers a token, as `ide/tokens.ts` does; `meaningOf` makes type
 * and modifiers of the third.
 */
export function* tokenData(
  view: View,
  within: Span | undefined,
  tokensOf: (unit: Unit) => readonly number[],
  meaningOf: (meaning: number) => readonly [type: number, modifiers: number],
): Steps<number[]> {
  const data: number[] = [];
  const { units, text } = view.file.tree;
  const { start: from, end: to } = within ?? { start: 0, end: text.length };
  let line = 0;
  let column = 0;
  for (let k = 0; k < units.length; k++) {
    const placed = units[k];
    const next = units[k + 1]?.start ?? text.length;
    if (placed === undefined || next <= from) continue;
    if (placed.start >= to) break;
    const tokens = tokensOf(placed.unit);
    for (let i = 0; i + 2 < tokens.length; i += 3) {
      const start = placed.start + (tokens[i] ?? 0);
      const end = start + (tokens[i + 1] ?? 0);
      if (end <= from || start >= to) continue;
      const [type, modifiers] = meaningOf(tokens[i + 2] ?? 0);
      for (const piece of onOneLine(text, start, end)) {
        const at = view.position(piece.start);
        const behind = view.position(piece.end);
        const deltaLine = at.line - line;
        const deltaColumn = deltaLine === 0 ? at.character - column : at.character;
        data.push(deltaLine, deltaColumn, behind.character - at.character, type, modifiers);
        ({ line, character: column } = at);
      }
      if (i % 300 === 0) yield;
    }
    yield;
  }
  return data;
}

/** Not every client takes a token of several lines. */
function* onOneLine(text: string, start: number, end: number): Generator<Span> {
  const written = text.slice(start, end);
  for (const { index, 0: part } of written.matchAll(/[^\r\n]+/g)) {
    yield { start: start + index, end: start + index + part.length };
  }
}
