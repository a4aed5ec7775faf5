/**
 * What hands are taken to be able to do. Settable in `tiptoe.json` under `limits`.
 *
 * `tapsPerSecond`: adults tap 55 to 60 times in ten seconds with the index finger (the norms of
 * the finger-tapping test as fepsy.com/tests/tapping gives them, adapted from Halstead and
 * Reitan), that is 6 a second; a few taps in a row go faster than ten seconds of them. The half
 * more that the default grants for it is an assumption.
 *
 * `switchesPerSecond`: between two keys struck in turn half of all people need 101 ms or more
 * (Inputlog copy task, OSF y3p4d, 275,508 intervals; median as computed by others), that is 10 a
 * second. The half more is the same assumption.
 *
 * `changesPerTick`: common practice, no source.
 */
export interface Limits {
  /** How often a second one input can be tapped. */
  readonly tapsPerSecond: number;
  /** How often a second hands can go from one input to another with both up between. */
  readonly switchesPerSecond: number;
  /** How many inputs can be timed to one tick, the pause input included. */
  readonly changesPerTick: number;
}

export const DEFAULT_LIMITS: Limits = {
  tapsPerSecond: 9,
  switchesPerSecond: 15,
  changesPerTick: 3,
};

export type LimitName = keyof Limits;

/** What each limit may be set to, and what it means; the schema is made from this. */
export const LIMIT_RANGES: Readonly<
  Record<LimitName, { readonly least: number; readonly most: number; readonly what: string }>
> = {
  tapsPerSecond: {
    least: 1,
    most: 1000,
    what: 'How often a second one input can be tapped.',
  },
  switchesPerSecond: {
    least: 1,
    most: 1000,
    what: 'How often a second hands can go from one input to another with both up between.',
  },
  changesPerTick: {
    least: 1,
    most: 32,
    what: 'How many inputs can be timed to one tick, the pause input included.',
  },
};
