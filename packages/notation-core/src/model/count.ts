import type { Count } from '../syntax/tree.js';
import { type Fraction, toDecimal, fraction } from '../text/fraction.js';
import { LIMITS } from '../text/limits.js';

/** A count in frames; where a length in time is none, `frames` says how many it would be. */
export type Frames =
  | { readonly ok: true; readonly lo: number; readonly hi: number }
  | {
      readonly ok: false;
      readonly lo: number;
      readonly hi: number;
      /** The exact number, to three places. */
      readonly frames: string;
      readonly below: number;
    };

/**
 * A written count in frames of the game. A length in time becomes frames here, once, since
 * rows of the log are compared by frames: t microseconds are t·clock/10⁶ frames, exactly.
 */
export function framesOf(count: Count, clock: Fraction): Frames {
  const { lo, hi, unit } = count;
  if (unit === 'frames') {
    return { ok: true, lo: Math.min(lo, LIMITS.count), hi: Math.min(hi, LIMITS.count) };
  }
  const low = inFrames(lo, clock);
  const high = inFrames(hi, clock);
  if (low.rest === 0n && high.rest === 0n) return { ok: true, lo: low.whole, hi: high.whole };
  const odd = low.rest === 0n ? high : low;
  return {
    ok: false,
    lo: low.whole,
    hi: Math.max(low.whole, high.whole),
    frames: toDecimal(fraction(odd.over, odd.under), 3),
    below: odd.whole,
  };
}

function inFrames(microseconds: number, clock: Fraction) {
  const over = BigInt(Math.min(microseconds, LIMITS.count)) * clock.num;
  const under = clock.den * 1_000_000n;
  return { whole: Number(over / under), rest: over % under, over, under };
}
