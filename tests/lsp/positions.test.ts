import * as fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { chooseEncoding, type Encoding, Lines } from '@lsp/positions.js';
import { difference } from '@lsp/store.js';

/** Texts that are rich in what is difficult. */
const difficult = fc
  .array(fc.constantFrom('a', 'é', '→', '🦊', '\ud83d', '\udd8a', '\n', '\r', '\r\n', ' ', 'bc'))
  .map((parts) => parts.join(''));

const ENCODINGS: readonly Encoding[] = ['utf-8', 'utf-16', 'utf-32'];

/** The count of a text by definition: its bytes, its units, its code points. */
function count(text: string, encoding: Encoding): number {
  if (encoding === 'utf-16') return text.length;
  if (encoding === 'utf-32') return Array.from(text).length;
  // Lone halves of a pair become U+FFFD, three bytes as well.
  return new TextEncoder().encode(text).length;
}

/** Where lines begin, by the words of the specification: after '\n', '\r\n' and '\r'. */
function startsOf(text: string): number[] {
  return [0, ...[...text.matchAll(/\r\n|\r|\n/g)].map((end) => end.index + end[0].length)];
}

describe('lines', () => {
  test('begin where the specification says', () => {
    fc.assert(
      fc.property(difficult, (text) => {
        expect([...Lines.of(text).starts]).toEqual(startsOf(text));
      }),
    );
  });

  test('stay right through any changes', () => {
    const change = fc.record({ from: fc.nat(40), length: fc.nat(10), text: difficult });
    fc.assert(
      fc.property(difficult, fc.array(change, { maxLength: 8 }), (first, changes) => {
        let lines = Lines.of(first);
        let text = first;
        for (const { from, length, text: written } of changes) {
          const start = Math.min(from, text.length);
          const end = Math.min(start + length, text.length);
          text = text.slice(0, start) + written + text.slice(end);
          lines = lines.changed({ start, end, text: written });
          expect(lines.text).toBe(text);
          expect([...lines.starts]).toEqual(startsOf(text));
        }
      }),
      { numRuns: 500 },
    );
  });
});

describe.each(ENCODINGS)('positions in %s', (encoding) => {
  test('count what the encoding counts, asked in any order', () => {
    fc.assert(
      fc.property(difficult, fc.array(fc.nat(60), { maxLength: 10 }), (text, offsets) => {
        const lines = Lines.of(text);
        for (const wanted of offsets) {
          const offset = Math.min(wanted, text.length);
          // In the middle of a pair there is no position in two of the encodings.
          if (/^[\ud800-\udbff][\udc00-\udfff]/.test(text.slice(offset - 1, offset + 1))) continue;
          const starts = startsOf(text);
          const line = starts.filter((start) => start <= offset).length - 1;
          const character = count(text.slice(starts[line], offset), encoding);
          expect(lines.positionAt(offset, encoding)).toEqual({ line, character });
        }
      }),
      { numRuns: 500 },
    );
  });

  test('lead back to their offset', () => {
    fc.assert(
      fc.property(difficult, fc.nat(60), (text, wanted) => {
        const offset = Math.min(wanted, text.length);
        fc.pre(!/^[\ud800-\udbff][\udc00-\udfff]/.test(text.slice(offset - 1, offset + 1)));
        fc.pre(!/^\r\n/.test(text.slice(offset - 1, offset + 1)));
        const lines = Lines.of(text);
        expect(lines.offsetAt(lines.positionAt(offset, encoding), encoding)).toBe(offset);
      }),
      { numRuns: 500 },
    );
  });

  test('beyond a line are its end, beyond the text the end of the text', () => {
    const lines = Lines.of('a🦊\r\nb');
    expect(lines.offsetAt({ line: 0, character: 99 }, encoding)).toBe(3);
    expect(lines.offsetAt({ line: 1, character: 99 }, encoding)).toBe(6);
    expect(lines.offsetAt({ line: 2, character: 0 }, encoding)).toBe(6);
    expect(lines.offsetAt({ line: 4_000_000, character: 4_000_000 }, encoding)).toBe(6);
  });
});

test('UTF-16 positions agree with the text documents of the protocol library', () => {
  fc.assert(
    fc.property(difficult, fc.nat(60), fc.nat(8), fc.nat(12), (text, offset, line, character) => {
      const theirs = TextDocument.create('a:b', 'x', 1, text);
      const ours = Lines.of(text);
      const at = Math.min(offset, text.length);
      // Theirs moves an offset between CR and LF to in front of both.
      if (!/^\r\n/.test(text.slice(at - 1, at + 1))) {
        expect(ours.positionAt(at, 'utf-16')).toEqual(theirs.positionAt(at));
      }
      expect(ours.offsetAt({ line, character }, 'utf-16')).toBe(
        theirs.offsetAt({ line, character }),
      );
    }),
    { numRuns: 500 },
  );
});

describe('the encoding', () => {
  test.each([
    [undefined, 'utf-16'],
    [[], 'utf-16'],
    [['utf-8', 'utf-16'], 'utf-8'],
    [['utf-32'], 'utf-32'],
    [['latin-1', 'utf-32', 'utf-8'], 'utf-32'],
    [['latin-1'], 'utf-16'],
  ])('of %j is %s', (offered, chosen) => {
    expect(chooseEncoding(offered)).toBe(chosen);
  });
});

test('the difference of two texts makes the one into the other', () => {
  fc.assert(
    fc.property(difficult, difficult, difficult, difficult, (a, b, c, d) => {
      const [from, to] = [a + b + c, a + d + c];
      expect(Lines.of(from).changed(difference(from, to)).text).toBe(to);
    }),
  );
});
