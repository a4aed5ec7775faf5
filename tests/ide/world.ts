import { type Analysis, analysisOf } from '@core/ide/analysis.js';
import { loadProgram, type Program } from '@core/model/program.js';
import { applyEdits, type TextEdit } from '@core/text/edit.js';
import type { Span } from '@core/text/span.js';
import { files } from '../support/marks.js';

/**
 * Notes as text with marks in it: `|` is the cursor, `«…»` and `‹…›` are the stretches that a
 * feature is expected to give. Several files stand behind `//- name.tiptoe` lines.
 */
export interface World {
  readonly analysis: Analysis;
  readonly texts: ReadonlyMap<string, string>;
  /** The file with the cursor, and where it is there; the first file where there is none. */
  readonly path: string;
  readonly offset: number;
  /** The files as they were written, without the cursor. */
  readonly wanted: ReadonlyMap<string, string>;
}

const MARKS = /[«»‹›]/g;

export function world(marked: string): World {
  const texts = new Map<string, string>();
  const wanted = new Map<string, string>();
  let place: { path: string; offset: number } | undefined;
  for (const [path, written] of files(marked)) {
    const bare = written.replace(MARKS, '');
    const offset = bare.indexOf('|');
    if (offset >= 0) {
      if (place !== undefined || bare.indexOf('|', offset + 1) >= 0) {
        throw new Error('there is more than one cursor');
      }
      place = { path, offset };
    }
    texts.set(path, bare.replace('|', ''));
    wanted.set(path, written.replace('|', ''));
  }
  place ??= { path: [...texts.keys()][0] ?? '', offset: -1 };
  return { analysis: analysisOf(programOfTexts(texts)), texts, ...place, wanted };
}

export function programOfTexts(texts: ReadonlyMap<string, string>): Program {
  return loadProgram([...texts.keys()], (path) => {
    const text = texts.get(path);
    return text === undefined ? { reason: 'there is no such file' } : { text };
  });
}

export interface Drawn extends Span {
  readonly path: string;
  /** Drawn as `‹…›` instead of `«…»`. */
  readonly second?: boolean;
}

/** The files with stretches drawn in. */
export function draw(texts: ReadonlyMap<string, string>, spans: readonly Drawn[]) {
  const drawn = new Map<string, string>();
  for (const [path, text] of texts) {
    // Where marks fall together, what is inside another stretch has its marks inside too.
    const marks = spans
      .filter((span) => span.path === path)
      .flatMap(({ start, end, second = false }) => {
        const [open, close] = second ? '‹›' : '«»';
        const begin = { at: start, open: 1, other: -end, sign: open ?? '' };
        const finish = { at: end, open: 0, other: -start, sign: close ?? '' };
        return start < end ? [begin, finish] : [{ ...begin, sign: begin.sign + finish.sign }];
      })
      .sort((a, b) => b.at - a.at || b.open - a.open || b.other - a.other);
    let out = text;
    for (const { at, sign } of marks) out = out.slice(0, at) + sign + out.slice(at);
    drawn.set(path, out);
  }
  return drawn;
}

/** The texts after edits. */
export function edited(
  texts: ReadonlyMap<string, string>,
  edits: readonly { readonly path: string; readonly edits: readonly TextEdit[] }[],
): Map<string, string> {
  const after = new Map(texts);
  for (const { path, edits: list } of edits) {
    after.set(path, applyEdits(texts.get(path) ?? '', list));
  }
  return after;
}

export const GAME = `game "Pier Lanterns" {
  clock 50
  settle 7
  inputs {
    U = y -1
    D = y +1
    L = x -1
    R = x +1
    J = jump
  }
  pause P { open 4  dwell 10  resume 2 }
}`;
