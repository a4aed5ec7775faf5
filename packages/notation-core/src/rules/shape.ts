import type { Game, Input } from '../model/game.js';
import type { Held } from '../model/steps.js';
import { Memo } from '../text/memo.js';

/** Sets of inputs of a game that checks ask for, as bits. */
export interface Shape {
  /** Every input that stands for a value on an axis. */
  readonly moves: Held;
  /** The inputs of each axis that has two or more. */
  readonly axes: readonly { readonly name: string; readonly mask: Held }[];
}

const shapes = new Memo<Game, Shape>();

export function shapeOf(game: Game): Shape {
  const known = shapes.get(game);
  if (known !== undefined) return known;
  const masks = new Map<string, Held>();
  let moves = 0;
  for (const { axis, index } of game.inputs) {
    if (axis === undefined) continue;
    moves |= 1 << index;
    masks.set(axis, (masks.get(axis) ?? 0) | (1 << index));
  }
  const axes = [...masks]
    .filter(([, mask]) => (mask & (mask - 1)) !== 0)
    .map(([name, mask]) => ({ name, mask }));
  const shape = { moves, axes };
  shapes.set(game, shape);
  return shape;
}

/** The inputs of a set, in the order of the game. */
export function inputsOf(game: Game, held: Held): Input[] {
  return game.inputs.filter(({ index }) => (held & (1 << index)) !== 0);
}

/** `DR`: the letters of a set. */
export function lettersOf(game: Game, held: Held): string {
  return inputsOf(game, held)
    .map(({ letter }) => letter)
    .join('');
}

/** How many inputs a set has. */
export function sizeOf(held: Held): number {
  let count = 0;
  for (let rest = held; rest !== 0; rest &= rest - 1) count++;
  return count;
}
