import { programOf } from '@core/model/program.js';
import { checkProgram } from '@core/rules/check.js';
import { parse } from '@core/syntax/parse.js';
import { cleanNote } from './clean-note.js';
import { broken, note } from './notes.js';
import type { Bench, Row } from './rows.js';
import { interleaved } from './timing.js';

/** A note with everything in it, and its game: random, so that the rules find something everywhere. */
const GAME = `game "Ferry Landing" {
  clock 50
  settle 6
  inputs { U = y -1 D = y +1 L = x -1 R = x +1 J = jump S = strike }
  pause P { open 4  dwell 10  resume 2 }
}
`;

const NOTES = [
  ['a clean note', cleanNote(10_000)],
  ['a note with findings everywhere', GAME + note(10_000)],
  ['a broken note', GAME + broken(note(10_000))],
] as const;

/**
 * Meaning and all rules, against the parse of the same note. Both are timed with the parse in
 * them, since what a unit means is remembered with the unit: only a fresh tree has to be checked.
 */
export const bench: Bench = {
  name: 'check',
  run(): Promise<Row[]> {
    const rows = NOTES.map(([name, text]): Row => {
      const found = checkProgram(programOf(text)).findings.length;
      const times = interleaved([
        { name: 'parse', run: () => parse(text) },
        { name: 'check', run: () => checkProgram(programOf(text)) },
      ]);
      const parsing = times.get('parse') ?? NaN;
      const checking = (times.get('check') ?? NaN) - parsing;
      return {
        what: `resolve and check / parse, ${name}`,
        measured: checking / parsing,
        target: { atMost: 2 },
        figures: `${checking.toFixed(2)} ms / ${parsing.toFixed(2)} ms, ${text.length} characters, ${found} findings`,
      };
    });
    return Promise.resolve(rows);
  },
};
