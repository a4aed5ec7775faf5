import type { Held } from '../model/steps.js';

/**
 * How far the last movement has run its course: the neutral frames since the last tick that
 * held an input, counted no further than the game's `settle`. Where nothing was held yet there
 * is nothing to wait for, which is the same as having waited long enough.
 *
 * One body is built for many beginnings, so it is also kept what the end owes to the beginning:
 * `fixed` where it owes nothing, else `added` frames on top; `asked` where the ticks themselves
 * depend on it.
 */
export class Settling {
  fixed = false;
  asked = false;
  added = 0;

  constructor(
    readonly settle: number,
    /** Neutral frames, 0 to `settle`. */
    public frames: number,
    /** Whether inputs are held on every tick by `X&( )`. */
    readonly masked: boolean,
  ) {}

  /** Ticks pass on which no frame runs. */
  ticks(held: Held): void {
    if (held === 0 && !this.masked) return;
    this.frames = 0;
    this.fixed = true;
  }

  /** Frames run. */
  run(held: Held, frames: number): void {
    if (frames <= 0) return;
    if (held !== 0 || this.masked) this.ticks(held);
    else this.neutral(frames);
  }

  private neutral(frames: number): void {
    this.frames = Math.min(this.settle, this.frames + frames);
    if (!this.fixed) this.added = Math.min(this.settle, this.added + frames);
  }

  /** The frames that `~` takes here; they have run on return. */
  top(): number {
    if (!this.fixed) this.asked = true;
    const frames = this.settle - this.frames;
    this.fixed = true;
    this.run(0, frames);
    return frames;
  }

  /** A body that was built from here has run `times` times; `asked` ones run one at a time. */
  past(end: SettlingEnd, times = 1): void {
    if (!this.fixed && end.asked) this.asked = true;
    if (end.fixed) {
      this.frames = end.frames;
      this.fixed = true;
    } else this.neutral(end.frames * times);
  }

  end(): SettlingEnd {
    const { asked, fixed } = this;
    return { asked, fixed, frames: fixed ? this.frames : this.added };
  }
}

/** `frames` is what is reached where `fixed`, else what is added. */
export interface SettlingEnd {
  readonly asked: boolean;
  readonly fixed: boolean;
  readonly frames: number;
}
