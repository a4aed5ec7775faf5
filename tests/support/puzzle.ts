/** The sliding puzzle of 3 by 3 as a log: a spot for each position of its tiles. */
export interface Puzzle {
  /** Rows as numbers: from, to, and which way the gap moves (0 U, 1 D, 2 L, 3 R). */
  readonly from: Int32Array;
  readonly to: Int32Array;
  readonly move: Uint8Array;
  /** Positions as written row by row, 0 for the gap; the first has it in a corner. */
  readonly boards: readonly string[];
}

export const LETTERS = ['U', 'D', 'L', 'R'] as const;
const STEPS = [-3, 3, -1, 1];

/** All positions that can be reached from `first`, by the order in which they are met. */
export function puzzleFrom(first = '012345678'): Puzzle {
  const numbers = new Map([[first, 0]]);
  const boards = [first];
  const from: number[] = [];
  const to: number[] = [];
  const move: number[] = [];
  for (let at = 0; at < boards.length; at++) {
    const board = boards[at] ?? '';
    const gap = board.indexOf('0');
    STEPS.forEach((step, k) => {
      const other = gap + step;
      if (other < 0 || other > 8 || (k > 1 && Math.floor(other / 3) !== Math.floor(gap / 3)))
        return;
      const tiles = board.split('');
      tiles[gap] = tiles[other] ?? '';
      tiles[other] = '0';
      const next = tiles.join('');
      let number = numbers.get(next);
      if (number === undefined) {
        number = boards.length;
        numbers.set(next, number);
        boards.push(next);
      }
      from.push(at);
      to.push(number);
      move.push(k);
    });
  }
  return {
    from: Int32Array.from(from),
    to: Int32Array.from(to),
    move: Uint8Array.from(move),
    boards,
  };
}

export const PUZZLE_GAME = `game "Nine Flagstones" {
  clock 60
  settle 4
  inputs { U = y -1 D = y +1 L = x -1 R = x +1 }
}
`;

/** The rows as a note. Spots go by number: `@p0` is the first position. */
export function puzzleNote({ from, to, move }: Puzzle): string {
  const lines: string[] = [];
  for (let row = 0; row < from.length; row++) {
    lines.push(`  @p${from[row] ?? 0} : ${LETTERS[move[row] ?? 0] ?? 'U'} -> @p${to[row] ?? 0} x2`);
  }
  return `${PUZZLE_GAME}seen {\n${lines.join('\n')}\n}\n`;
}
