import * as T from '../tokens.js';
import type * as Tree from '../tree.js';
import type { Piece } from './pieces.js';

/** A line of a block, as offsets inside its unit. */
export interface Entry {
  readonly kind: 'setting' | 'inputs' | 'input' | 'cue' | 'row' | 'move';
  readonly start: number;
  readonly end: number;
}

/** The lines of a declaration's blocks, in order. Only blocks of items have none. */
export function entriesOf(declaration: Tree.Declaration, pieces: readonly Piece[]): Entry[] {
  const found: Entry[] = [];
  const add = (kind: Entry['kind'], nodes: readonly { start: number; end: number }[]) => {
    for (const { start, end } of nodes) found.push({ kind, start, end });
  };
  switch (declaration.kind) {
    case 'game':
      add('setting', declaration.settings);
      add('input', declaration.inputs);
      add('cue', declaration.cues);
      add('setting', declaration.pauses);
      for (const pause of declaration.pauses) add('setting', pause.settings);
      // The block of the inputs has no node of its own: its lines are the game's.
      add('inputs', pieces.filter(isInputs));
      break;
    case 'hands':
      add('setting', declaration.settings);
      break;
    case 'seen':
      add('row', declaration.rows);
      break;
    case 'ground':
      add('move', declaration.moves);
      break;
    case 'use':
    case 'spot':
    case 'let':
    case 'route':
    case 'rescue':
    case 'broken':
      break;
  }
  return found.sort((a, b) => a.start - b.start || b.end - a.end);
}

function isInputs(piece: Piece): boolean {
  return piece.type === T.Word && piece.text === 'inputs';
}

/** What parts an entry from the one in front of it on the same line. */
export function separators(entries: readonly Entry[]): Map<number, string> {
  return new Map(entries.map(({ kind, start }) => [start, kind === 'input' ? '   ' : '  ']));
}
