import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { analysisOf } from '@core/ide/analysis.js';
import { codeActions, fixAll } from '@core/ide/code-actions.js';
import { codeLenses, lensFacts } from '@core/ide/code-lens.js';
import { completion, completionDocs } from '@core/ide/completion.js';
import { formatFile, formatOnType, formatRange } from '@core/ide/format.js';
import { hover } from '@core/ide/hover.js';
import { inlayHints } from '@core/ide/inlay-hints.js';
import { signature } from '@core/ide/signature.js';
import { itemAtTick, routeTimeline, ticksAt } from '@core/ide/timeline.js';
import { semanticTokens } from '@core/ide/tokens.js';
import { loadProgram } from '@core/model/program.js';
import { parse } from '@core/syntax/parse.js';
import { applyEdits } from '@core/text/edit.js';
import { GAME, LOG } from './at.js';

const NOTE = `use "log.tiptoe"
# words
route cross "Over" from @reed @rush to @past {
  U*2+ until @reed "tap" # tiptoe: allow single-sighting because so
  [U1] @tern U0-[U1 .1]-J5 D&(.4 J .3)
  choose end { slow { shuffle*2 } fast { R .12 U U U } }
  pace .2 (R D250ms)*2..3 ~ D3..4-DR2 @past
}
rescue @snag in cross { [R0]-J U*3 } -> @tern
ground yard within (380, 60) to (520, 140) { U by (0, -13) }
hands tired { spread press 9ms pause 11ms  miss 0.5% }
let hop = J .2 shuffle hop
`;

const analysisWith = (text: string) =>
  analysisOf(
    loadProgram(['note.tiptoe'], (path) => ({
      text: path === 'note.tiptoe' ? text : path === 'log.tiptoe' ? LOG : GAME,
    })),
  );

/** Asks every feature at an offset; none may throw, and all spans have to be inside the text. */
function ask(text: string, offset: number, length: number): void {
  const analysis = analysisWith(text);
  const path = 'note.tiptoe';
  const inside = ({ start, end }: { start: number; end: number }): void => {
    expect(start).toBeGreaterThanOrEqual(0);
    expect(end).toBeGreaterThanOrEqual(start);
    expect(end).toBeLessThanOrEqual(text.length);
  };
  const found = hover(analysis, path, offset);
  if (found !== undefined) inside(found.span);
  for (const item of completion(analysis, path, offset).items) {
    inside(item.span);
    completionDocs(analysis, path, item);
  }
  signature(analysis, path, offset);
  for (const action of codeActions(
    analysis,
    path,
    offset,
    Math.min(text.length, offset + length),
  )) {
    // prettier-ignore
    const before = analysis.file(action.path)?.tree.text ?? '';
    const after = applyEdits(before, action.edits);
    if (action.placeholder !== undefined) expect(action.placeholder.end).toBeLessThanOrEqual(after.length); // prettier-ignore
    const count = (of: string) => parse(of).units.reduce((sum, { unit }) => sum + unit.comments.length, 0); // prettier-ignore
    expect(count(after)).toBeGreaterThanOrEqual(count(before));
  }
  for (const { span } of codeLenses(analysis, path)) {
    inside(span);
    lensFacts(analysis, path, span.start);
  }
  for (const hint of inlayHints(analysis, path, 0, text.length)) {
    inside({ start: hint.offset, end: hint.offset });
  }
  semanticTokens(analysis, path);
  routeTimeline(analysis, path, offset, { most: 50 });
  itemAtTick(analysis, path, offset, 7);
  ticksAt(analysis, path, offset);
  for (const edits of [
    formatFile(analysis, path),
    formatRange(analysis, path, offset, offset + length),
    formatOnType(analysis, path, offset, text.charAt(offset - 1)),
  ]) {
    const after = applyEdits(text, edits);
    expect(after.replace(/[\s\ufeff]+/g, '')).toBe(text.replace(/[\s\ufeff]+/g, ''));
  }
}

describe('every feature, anywhere', () => {
  test('in a whole note, at each offset', () => {
    for (let offset = 0; offset <= NOTE.length; offset += 3) ask(NOTE, offset, offset % 17);
  });

  test('in a note out of which a piece was taken, or into which one was put', () => {
    const pieces = fc.constantFrom('', '{', '}', '(', ')', '[', ']', '"', '#', '-', '*2', '@', '\n', 'route ', 'let x = ', '&', '&(', 'until', '💡', '\r\n', 'choose ', '5ms', 'use "'); // prettier-ignore
    const places = fc.nat({ max: NOTE.length });
    fc.assert(
      fc.property(
        places,
        fc.nat({ max: 12 }),
        pieces,
        fc.integer({ min: -20, max: 20 }),
        fc.nat({ max: 20 }),
        (at, gone, piece, away, length) => {
          // prettier-ignore
          const text = NOTE.slice(0, at) + piece + NOTE.slice(at + gone);
          ask(text, Math.max(0, Math.min(text.length, at + away)), length);
        },
      ),
      { numRuns: 150 },
    );
  });

  test('in texts that are no notes', () => {
    for (const text of [
      '',
      '\n',
      '\ufeff',
      '\r\n\r\n',
      '}',
      '"',
      '#',
      '@',
      'route',
      'seen {',
      '💡💡',
    ]) {
      // prettier-ignore
      for (let offset = 0; offset <= text.length; offset++) ask(text, offset, 2);
    }
  });

  test('mends broken notes as far as is safe', () => {
    const analysis = analysisWith(NOTE.replace('[U1]', '[U1').replace('R .12', 'R1 .12'));
    expect(fixAll(analysis, 'note.tiptoe')).toBeDefined();
  });
});
