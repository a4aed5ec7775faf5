import { fstatSync } from 'node:fs';

/** Whether standard output (1) or standard error (2) is a terminal. */
export function isTerminal(stream: 1 | 2): boolean {
  try {
    // Asking Node loads its network modules; most of the time the kind of file rules it out.
    if (!fstatSync(stream).isCharacterDevice()) return false;
    return (stream === 1 ? process.stdout : process.stderr).isTTY;
  } catch {
    return false; // Closed.
  }
}

/**
 * Whether to colour: FORCE_COLOR (not empty; 0 and false say no) decides first, then NO_COLOR (not
 * empty: no, as no-color.org asks), then whether a terminal reads that is not a dumb one.
 */
export function wantsColour(stream: 1 | 2, env: NodeJS.ProcessEnv = process.env): boolean {
  const forced = env['FORCE_COLOR'];
  if (forced !== undefined && forced !== '') return forced !== '0' && forced !== 'false';
  const refused = env['NO_COLOR'];
  if (refused !== undefined && refused !== '') return false;
  return env['TERM'] !== 'dumb' && isTerminal(stream);
}

/** Columns of the terminal; 80 where there is none. */
export function screenWidth(): number {
  return isTerminal(1) ? Math.max(40, process.stdout.columns) : 80;
}

const CODES = {
  bold: [1, 22],
  dim: [2, 22],
  underline: [4, 24],
  red: [31, 39],
  green: [32, 39],
  yellow: [33, 39],
  blue: [34, 39],
  magenta: [35, 39],
  cyan: [36, 39],
} as const;

/** Colours text, or leaves it plain. Codes: ECMA-48 (5th ed., 1991) 8.3.117, select graphic rendition. */
export type Paint = (style: keyof typeof CODES, text: string) => string;

export const plain: Paint = (_, text) => text;

export const coloured: Paint = (style, text) => {
  const [on, off] = CODES[style];
  return text === '' ? '' : `\u001b[${on}m${text}\u001b[${off}m`;
};

export function painter(stream: 1 | 2): Paint {
  return wantsColour(stream) ? coloured : plain;
}
