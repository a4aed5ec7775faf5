import type { Game, Input } from '../model/game.js';

/**
 * How a move is made: a press in the open; a press that touches the pause and has no frame of
 * its own (`D0-[]`); a press in a window of a pause (`[D1]`); from inside a pause, leaving it
 * with a press (`[]-D1`).
 */
export type Form = 'press' | 'touch' | 'window' | 'leave';

/** One move of a menu, as it is written. */
export interface MenuMove {
  readonly items: string;
  /** The letters that are held, '' for none. */
  readonly letters: string;
  readonly form: Form;
  /** Whether it leaves its pause with the exit button (`]-J`). */
  readonly exit: boolean;
  /** Frames on which the letters are held while the game runs. */
  readonly frames: number;
}

export interface MenuOptions {
  /** Moves of 0 up to this many frames. */
  readonly frames: number;
  /** Letters of buttons that are tried as well, alone and with each direction. */
  readonly buttons?: string;
  /** The letter of the button that a pause is left with; undefined for none. */
  readonly exit?: string | undefined;
}

/** What can be tried in the open, and from inside a pause. */
export interface Menu {
  readonly running: readonly MenuMove[];
  readonly paused: readonly MenuMove[];
}

/**
 * The directions of a game: each value on an axis, stick positions included, and each two
 * values on different axes together.
 */
export function directionsOf(game: Game): string[] {
  const values = game.inputs.filter((input) => input.axis !== undefined);
  const chords: string[] = [];
  values.forEach((a, i) => {
    for (const b of values.slice(i + 1)) if (a.axis !== b.axis) chords.push(a.letter + b.letter);
  });
  return [...values.map((input) => input.letter), ...chords];
}

/** The button that leaves a pause where none is named: the one that the game calls `jump`. */
export function exitOf(game: Game): Input | undefined {
  return game.inputs.find((input) => input.button?.toLowerCase() === 'jump');
}

/**
 * Everything worth trying from a spot, derived from the game. A direction held for some frames
 * gives a plain move, one buffered through a pause, and one that leaves the pause jumping, so
 * that eight directions give 24 moves a number of frames (common practice, no source).
 *
 * Left out is what cannot be done: two presses of the pause input need a tick between them, so
 * a window takes `resume + frames >= 2`, and a menu a dwell of 1.
 */
export function menuOf(game: Game, options: MenuOptions): Menu {
  const { pause } = game;
  const held = directionsOf(game);
  for (const button of options.buttons ?? '') {
    held.push(button, ...directionsOf(game).map((direction) => direction + button));
  }
  const { exit } = options;
  const running: MenuMove[] = [];
  const paused: MenuMove[] = [];
  const put = (into: MenuMove[], move: MenuMove): void => {
    into.push(move);
    if (exit === undefined || move.form === 'press' || move.form === 'leave') return;
    into.push({ ...move, items: `${move.items}-${exit}`, exit: true });
  };
  // From inside a pause it can also just end.
  if (pause !== undefined) {
    paused.push({ items: '[]', letters: '', form: 'leave', exit: false, frames: 0 });
    if (exit !== undefined) {
      paused.push({ items: `[]-${exit}`, letters: '', form: 'leave', exit: true, frames: 0 });
    }
  }
  for (let frames = 0; frames <= options.frames; frames++) {
    const canOpen = pause !== undefined && pause.dwell > 0;
    const canWindow = canOpen && pause.resume + frames >= 2;
    for (const letters of held) {
      const press = frames === 1 ? letters : `${letters}${frames}`;
      const of = { letters, exit: false, frames };
      if (frames > 0) put(running, { ...of, items: press, form: 'press' });
      else if (canOpen) put(running, { ...of, items: `${letters}0-[]`, form: 'touch' });
      if (canWindow) {
        const window: MenuMove = { ...of, items: `[${letters}${frames}]`, form: 'window' };
        put(running, window);
        put(paused, window);
      }
      if (pause !== undefined && frames > 0) {
        put(paused, { ...of, items: `[]-${letters}${frames}`, form: 'leave' });
      }
    }
  }
  return { running, paused };
}
