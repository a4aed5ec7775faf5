import type { Clock } from './clock.js';

/**
 * How a clock's ticks are labelled hours:minutes:seconds:frames. Source, from memory: SMPTE ST 12-1
 * (time and control code), whose frame is a tick here. At 30000/1001 two labels are dropped at the
 * start of every minute but each tenth, so that labels keep to the time of day; at twice the rate
 * four are. ST 12-1 itself counts pairs of frames above 30 a second; numbering every one of them,
 * as here, is common practice at 50, 60000/1001 and 60.
 */
export interface Timecode {
  /** Labels in a second: the clock, rounded up to a whole number. */
  readonly base: number;
  /** Labels dropped at the start of a minute; 0 for a clock that drops none. */
  readonly dropped: number;
  /** What stands before the frames: `;` where labels are dropped, else `:`. */
  readonly separator: ':' | ';';
  /** Ticks until the labels start again at 00:00:00:00, as the hours of ST 12-1 end at 23. */
  readonly ticksPerDay: number;
}

/** Why something is no label or has none, in words for the reader. */
export interface NoTimecode {
  readonly reason: string;
}

const SYSTEMS: ReadonlyMap<string, Timecode> = new Map([
  ['24000/1001', system(24, 0)],
  ['24/1', system(24, 0)],
  ['25/1', system(25, 0)],
  ['30000/1001', system(30, 2)],
  ['30/1', system(30, 0)],
  ['50/1', system(50, 0)],
  ['60000/1001', system(60, 4)],
  ['60/1', system(60, 0)],
]);

const TWO_DIGITS = Array.from({ length: 60 }, (_, n) => String(n).padStart(2, '0'));

/** The labels of a clock, or why it has none. */
export function timecodeOf(clock: Clock): Timecode | NoTimecode {
  const found = SYSTEMS.get(`${clock.num}/${clock.den}`);
  if (found !== undefined) return found;
  return {
    reason:
      `a clock of ${written(clock)} ticks a second has no SMPTE timecode; 24000/1001, 24, 25, ` +
      '30000/1001, 30, 50, 60000/1001 and 60 have one',
  };
}

/**
 * The label of a tick, such as `00:01:00;02`. After a day the labels start again.
 * Throws a RangeError where the clock has no timecode (ask `timecodeOf` first) or the tick is not
 * a safe whole number from 0 on.
 */
export function label(tick: number, clock: Clock): string {
  return labeller(clock)(tick);
}

/** `label` for many ticks, in any order; neighbours in one second are fastest. Throws as it does. */
export function labeller(clock: Clock): (tick: number) => string {
  const timecode = timecodeOf(clock);
  if ('reason' in timecode) throw new RangeError(timecode.reason);
  const { base, dropped, separator, ticksPerDay } = timecode;
  const perDroppingMinute = 60 * base - dropped;
  const perTenMinutes = 600 * base - 9 * dropped;
  // The second of the last label: the ticks in it, and what takes such a tick to its frames.
  let first = 0;
  let end = 0;
  let shift = 0;
  let second = '';

  return (tick) => {
    if (!(tick >= first && tick < end)) {
      if (!Number.isSafeInteger(tick) || tick < 0) {
        throw new RangeError(`${tick} is no tick: they are whole numbers from 0 on`);
      }
      const ofDay = tick % ticksPerDay;
      const tens = Math.floor(ofDay / perTenMinutes);
      const rest = ofDay % perTenMinutes;
      // The first of ten minutes is whole; each of the other nine starts with a drop.
      const drops =
        9 * tens + (rest < 60 * base ? 0 : 1 + Math.floor((rest - 60 * base) / perDroppingMinute));
      const counted = ofDay + drops * dropped;
      const frames = counted % base;
      const seconds = (counted - frames) / base;
      const short = seconds % 60 === 0 && seconds % 600 !== 0 ? dropped : 0;
      shift = tick - frames;
      first = shift + short;
      end = shift + base;
      const minutes = Math.floor(seconds / 60);
      second = `${two(Math.floor(minutes / 60))}:${two(minutes % 60)}:${two(seconds % 60)}${separator}`;
    }
    const frames = TWO_DIGITS[tick - shift];
    // Only a tick between two whole numbers inside the remembered second gets here without one.
    if (frames === undefined) throw new RangeError(`${tick} is no tick: they are whole numbers`);
    return second + frames;
  };
}

/**
 * The tick of the first day that bears a label, the inverse of `label`; or why the clock has no
 * such label: another shape, a number out of its range, the other separator, a dropped label.
 */
export function tickOf(text: string, clock: Clock): { readonly tick: number } | NoTimecode {
  const timecode = timecodeOf(clock);
  if ('reason' in timecode) return timecode;
  const { base, dropped, separator } = timecode;
  const match = /^(\d\d):(\d\d):(\d\d)([:;])(\d\d)$/.exec(text);
  if (match === null) {
    const shown = text.length > 40 ? `${text.slice(0, 40)}…` : text;
    return { reason: `"${shown}" is not of the form hh:mm:ss${separator}ff` };
  }
  const [hours = 0, minutes = 0, seconds = 0, , frames = 0] = match.slice(1).map(Number);
  if (hours > 23) return { reason: `${text}: hours end at 23` };
  if (minutes > 59) return { reason: `${text}: minutes end at 59` };
  if (seconds > 59) return { reason: `${text}: seconds end at 59` };
  if (frames >= base) return { reason: `${text}: frames end at ${base - 1}` };
  if (match[4] !== separator) {
    const kind = dropped > 0 ? 'drops labels' : 'drops no labels';
    const where = `a clock of ${written(clock)} ${kind} and has "${separator}" before the frames`;
    return { reason: `${text}: ${where}` };
  }
  const minute = 60 * hours + minutes;
  if (minute % 10 !== 0 && seconds === 0 && frames < dropped) {
    const next = `${text.slice(0, -2)}${two(dropped)}`;
    return { reason: `${text} is a dropped label: this minute starts with ${next}` };
  }
  const counted = (60 * minute + seconds) * base + frames;
  return { tick: counted - dropped * (minute - Math.floor(minute / 10)) };
}

function system(base: number, dropped: number): Timecode {
  // 24 hours of six times ten minutes, nine of which drop.
  const ticksPerDay = 144 * (600 * base - 9 * dropped);
  return { base, dropped, separator: dropped > 0 ? ';' : ':', ticksPerDay };
}

function two(n: number): string {
  return TWO_DIGITS[n] ?? String(n);
}

function written(clock: Clock): string {
  return clock.den === 1n ? String(clock.num) : `${clock.num}/${clock.den}`;
}
