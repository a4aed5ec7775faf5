import type { Held } from '../model/steps.js';

/**
 * What steps show to their neighbours. A pause takes up what is joined to it on either side,
 * through groups, holds and repeats, and a menu keeps what is held on both sides of it: so
 * each step is built knowing the leaf before it and the leaf after it, and nothing more.
 */

/** The leaf in front. Inputs held by an `X&( )` around both sides are left out. */
export interface Before {
  /** What a pause that is joined to it takes over. */
  readonly held: Held;
  /** It is `]`, with which frames may have begun to run. */
  readonly closes: boolean;
}

/** The leaf that follows. */
export interface After {
  /** What a `]` that is joined to it takes over. */
  readonly joined: Held;
  /** What it holds on its first tick, where it follows a menu. */
  readonly first: Held;
}

export const NOTHING_BEFORE: Before = { held: 0, closes: false };
export const CLOSED_BEFORE: Before = { held: 0, closes: true };
export const NOTHING_AFTER: After = { joined: 0, first: 0 };

/** Which neighbours matter to the leaf at an edge. */
export type Edge = 'press' | 'open' | 'window' | 'close' | 'wait';

export interface Shape {
  readonly head: Edge;
  readonly tail: Edge;
  /** What the last leaf shows to what follows. */
  readonly before: Before;
}

export const WAIT: Shape = { head: 'wait', tail: 'wait', before: NOTHING_BEFORE };
export const OPEN: Shape = { head: 'open', tail: 'open', before: NOTHING_BEFORE };
export const WINDOW: Shape = { head: 'window', tail: 'window', before: NOTHING_BEFORE };
export const CLOSE: Shape = { head: 'close', tail: 'close', before: CLOSED_BEFORE };
