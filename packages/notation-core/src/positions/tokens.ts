import type { TimedStep } from '../model/steps.js';

/**
 * What rows and routes are compared by: each press, wait, bracket and window as a small
 * number, equal exactly where the notation means the same.
 */
export class Tokens {
  private readonly ids = new Map<string, number>();
  /** What each token is, as text: `3*2` holds the inputs of the bits 3 for 2 frames. */
  readonly keys: string[] = [];
  /** Neutral frames that a token lets run: a wait's count, Infinity for `~`, -1 for the rest. */
  readonly neutral: number[] = [];
  /** Whether the game is paused behind the token. */
  readonly paused: boolean[] = [];
  readonly open: number;
  readonly close: number;
  readonly settle: number;
  readonly holdEnd: number;

  constructor() {
    this.open = this.id('[', -1, true);
    this.close = this.id(']', -1, false);
    this.settle = this.id('~', Infinity, false);
    this.holdEnd = this.id(')', -1, false);
  }

  get size(): number {
    return this.neutral.length;
  }

  private id(key: string, neutral: number, paused: boolean): number {
    let id = this.ids.get(key);
    if (id === undefined) {
      id = this.neutral.length;
      this.ids.set(key, id);
      this.keys.push(key);
      this.neutral.push(neutral);
      this.paused.push(paused);
    }
    return id;
  }

  press(held: number, frames: number): number {
    return this.id(`${held}*${frames}`, -1, false);
  }

  wait(frames: number): number {
    return this.id(`.${frames}`, frames, false);
  }

  window(parts: readonly { held: number; lo: number }[], frames: (i: number) => number): number {
    const key = parts.map((part, i) => `${part.held}*${frames(i)}`).join('-');
    return this.id(`[${key}]`, -1, true);
  }

  holdStart(held: number): number {
    return this.id(`${held}&(`, -1, false);
  }

  /** A token inside `X&( )`: nothing there is what it is outside, and no wait is neutral. */
  within(token: number, held: number): number {
    return this.id(`${held}&|${this.keys[token] ?? ''}`, -1, this.paused[token] === true);
  }
}

/** A leaf that a token stands for. */
export type TokenStep = TimedStep | undefined;
