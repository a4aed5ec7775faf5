import { type Fraction, div, fraction, mul, toDecimal } from '../text/fraction.js';

/** Ticks a second, above zero: 30, 50, 30000/1001, 60000/1001. */
export type Clock = Fraction;

/** A length in time as ticks. Only where `exact`, the length is a whole number of them. */
export interface TickCount {
  /** The nearest whole number of ticks; half a tick rounds up. The length itself where `exact`. */
  readonly ticks: number;
  readonly exact: boolean;
  /** The whole numbers of ticks around the length; both are `ticks` where `exact`. */
  readonly below: number;
  readonly above: number;
}

/** Residues that a `timeFormatter` remembers; 60000/1001 needs 60000, every whole clock fewer. */
const MOST_REMEMBERED = 65_536;

const MILLION = 1_000_000n;

/**
 * A length in microseconds as ticks: us · clock / 10⁶, exactly.
 * Throws a RangeError where `us` is not a safe whole number from 0 on, or where the ticks would be
 * beyond the safe whole numbers (a clock up to a million ticks a second cannot get there).
 */
export function ticksOfMicroseconds(us: number, clock: Clock): TickCount {
  if (!Number.isSafeInteger(us) || us < 0) {
    throw new RangeError(`${us} microseconds: a length is a whole number from 0 on, held exactly`);
  }
  checkClock(clock);
  const over = BigInt(us) * clock.num;
  const under = clock.den * MILLION;
  const below = over / under;
  const rest = over % under;
  const above = rest === 0n ? below : below + 1n;
  if (above > BigInt(Number.MAX_SAFE_INTEGER)) {
    throw new RangeError(`${us} microseconds are ${below} ticks, more than can be counted exactly`);
  }
  return {
    ticks: Number(2n * rest >= under ? above : below),
    exact: rest === 0n,
    below: Number(below),
    above: Number(above),
  };
}

/** How long so many frames take when each takes a tick, in seconds: frames / clock. */
export function framesToSeconds(frames: number | bigint, clock: Clock): Fraction {
  checkClock(clock);
  return div(fraction(frames), clock);
}

/** The time at which a tick begins, in seconds from tick 0: tick / clock. */
export function tickTime(tick: number | bigint, clock: Clock): Fraction {
  return framesToSeconds(tick, clock);
}

export function secondsToMilliseconds(seconds: Fraction): Fraction {
  return mul(seconds, fraction(1000n));
}

/**
 * Writes the times of ticks, in seconds: the text of `toDecimal(tickTime(tick, clock), places)`,
 * made for tables of millions of rows. Ticks are safe whole numbers in any order; neighbours are
 * fastest. The writer throws a RangeError for any other tick.
 *
 * The decimals repeat with every `clock.num` ticks, which last `clock.den` seconds to the dot: one
 * turn of them is remembered as it is met, and what is left to do for a tick is two additions.
 */
export function timeFormatter(clock: Clock, places = 6): (tick: number) => string {
  checkClock(clock);
  const exactly = (tick: number) => toDecimal(tickTime(tick, clock), places);
  exactly(0); // An impossible number of places is the caller's to hear of here.
  const turn = Number(clock.num);
  const turnSeconds = Number(clock.den);
  if (turn > MOST_REMEMBERED || !Number.isSafeInteger(turnSeconds)) return exactly;

  const decimals = new Array<string | undefined>(turn);
  const seconds = new Float64Array(turn);
  let turnStart = 0;
  let turnTime = 0;
  let shown = 0;
  let shownText = '0';

  return (tick) => {
    let residue = tick - turnStart;
    if (!(residue >= 0 && residue < turn)) {
      const start = tick - (tick % turn);
      const time = (start / turn) * turnSeconds;
      // Below zero a half rounds the other way; beyond the safe numbers the sums are not exact.
      if (!(tick >= 0 && tick <= Number.MAX_SAFE_INTEGER - turn)) return exactly(tick);
      if (time > Number.MAX_SAFE_INTEGER - turnSeconds - 1) return exactly(tick);
      turnStart = start;
      turnTime = time;
      residue = tick - turnStart;
    }
    let text = decimals[residue];
    if (text === undefined) {
      const whole = exactly(residue);
      const dot = places === 0 ? whole.length : whole.indexOf('.');
      text = whole.slice(dot);
      decimals[residue] = text;
      seconds[residue] = Number(whole.slice(0, dot));
    }
    const second = turnTime + (seconds[residue] ?? 0);
    if (second !== shown) {
      shown = second;
      shownText = String(second);
    }
    return shownText + text;
  };
}

function checkClock(clock: Clock): void {
  if (clock.num <= 0n) {
    throw new RangeError(`a clock is above 0 ticks a second, not ${toDecimal(clock, 3)}`);
  }
}
