import { type Analysis, analysisOf } from '@core/ide/analysis.js';
import { loadProgram } from '@core/model/program.js';
import { cursor, files } from '../support/marks.js';

/** The game that notes of these tests are of, where they do not say otherwise. */
export const GAME = `## Somebody carries lamps along a jetty.
game "Jetty Lamps" {
  clock 50
  settle 7
  inputs { U = y -1   D = y +1   L = x -1   R = x +1   W = y -0.5 "half tilt"   J = jump }
  pause P { open 4  dwell 10  resume 2 }
  cue 1 "lamp level"
  cue 2 "lamp high"
}
`;

/** The spots and the log of these tests. */
export const LOG = `use "game.tiptoe"
spot @reed at (412, 88) "toe on the last plank"
spot @rush "both feet wet"
spot @tern "a tern lands"
spot @past
spot @snag paused "lamp low"
## Right, then two up.
let shuffle = R U U
seen {
  @reed : U -> @rush x22
  @reed : U -> @past x2
  @rush : U -> @reed x20
  @reed : [U1] -> @tern x9
  @tern : shuffle -> @past x5
  @tern : U0-[] -> @snag x4
  @snag : [R0]-J U*3 -> @tern x6
}
`;

/** Several files in one text; `game.tiptoe` and `log.tiptoe` stand beside them. */
export function analysed(marked: string): { analysis: Analysis; texts: Map<string, string> } {
  const texts = new Map([['game.tiptoe', GAME], ['log.tiptoe', LOG], ...files(marked)]);
  const program = loadProgram([...texts.keys()], (path) => {
    const text = texts.get(path);
    return text === undefined ? { reason: 'there is no such file' } : { text };
  });
  return { analysis: analysisOf(program), texts };
}

/** The same with one cursor `|` in one of the files. */
export function atCursor(marked: string): {
  analysis: Analysis;
  texts: Map<string, string>;
  path: string;
  text: string;
  offset: number;
} {
  const { texts } = analysed(marked);
  for (const [path, written] of files(marked)) {
    if (!/(?<!\\)\|/.test(written)) continue;
    const { text, offset } = cursor(written);
    texts.set(path, text);
    const whole = [...texts].map(([name, each]) => `//- ${name}\n${each}`).join('\n');
    const { analysis } = analysed(whole);
    return { analysis, texts, path, text, offset };
  }
  throw new Error('no file has a cursor "|"');
}
