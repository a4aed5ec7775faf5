import { random } from './notes.js';

const GAME = `game "Ferry Landing" {
  clock 60
  settle 6
  inputs {
    U = y -1  D = y +1  L = x -1  R = x +1
    J = jump  S = strike
  }
  pause P { open 4  dwell 10  resume 2 }
  cue 1 "lamp level"
  cue 2 "lamp high"
}

hands { spread 9ms  reset 14s }

`;
const PRESSES = ['D', 'U', 'L', 'R', 'DR', 'UL', 'J', 'S', 'D3', 'R12', 'UR4', 'L20'];
const SPOTS = ['bollard', 'gangway', 'winch', 'ladder', 'buoy', 'mooring'];
const WORDS = ['until the rope is tight', 'slow', 'watch the lamp', 'the boat must not rock'];

/** A note of at least `size` characters in which the checker finds nothing, with its game in it. */
export function cleanNote(size: number, seed = 7): string {
  const next = random(seed);
  const one = <T>(from: readonly T[]): T => from[Math.floor(next() * from.length)] as T;
  const item = (): string => {
    const r = next();
    if (r < 0.55) return one(PRESSES);
    if (r < 0.63) return `.${8 + Math.floor(next() * 20)}`;
    if (r < 0.71) return 'D3-R4';
    if (r < 0.8) return `[${one(['U', 'D', 'R'])}]`;
    if (r < 0.9) return `${one(PRESSES)}*${2 + Math.floor(next() * 8)}`;
    return next() < 0.5 ? 'step' : `(${one(PRESSES)} ${one(PRESSES)})*3`;
  };
  const items = (n: number): string => Array.from({ length: n }, item).join(' ');
  let text = `${GAME}let step = R D D\n`;
  for (let k = 0; text.length < size; k++) {
    const lines = Array.from({ length: 4 + Math.floor(next() * 8) }, () => {
      const r = next();
      const line = `  ${items(2 + Math.floor(next() * 5))}`;
      return r < 0.3
        ? `${line} "${one(WORDS)}"\n`
        : r < 0.4
          ? `${line} # ${one(WORDS)}\n`
          : `${line}\n`;
    });
    text += `\n## Way ${k + 1}.\nroute way${k} "Over the ${one(SPOTS)}" {\n${lines.join('')}}\n`;
  }
  return text;
}
