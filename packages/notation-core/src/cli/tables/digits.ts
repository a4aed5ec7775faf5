import type { Clock } from '../../timeline/clock.js';

const ZERO = 48;
const NINE = 57;

/**
 * UTF-8 that is copied often, eight bytes at a time. Up to seven bytes behind the end are overwritten
 * with anything: write from the front to the back, and leave room.
 *
 * The eight bytes go as a double, which an engine keeps bit for bit unless it is no number. Those
 * have 7F or FF in their last byte and F0 or more in the one before: no UTF-8 has such a pair.
 */
export class Piece {
  length = 0;
  readonly bytes: Uint8Array;
  private readonly words: DataView;

  constructor(room: number) {
    this.bytes = new Uint8Array(Math.ceil(room / 8) * 8);
    this.words = new DataView(this.bytes.buffer);
  }

  static of(text: string): Piece {
    const bytes = Buffer.from(text);
    const piece = new Piece(bytes.length);
    piece.bytes.set(bytes);
    piece.length = bytes.length;
    return piece;
  }

  /** Writes the bytes, and says where they end. */
  write(into: DataView, at: number): number {
    const { words, length } = this;
    for (let i = 0; i < length; i += 8) into.setFloat64(at + i, words.getFloat64(i, true), true);
    return at + length;
  }
}

/** A whole number as its digits, for counting up by one: nearly always one byte changes. */
export class Counter extends Piece {
  constructor() {
    super(24);
  }

  /** A whole number from 0 on, held exactly, of at most 19 digits. */
  set(value: number | bigint): void {
    const text = String(value);
    for (let i = 0; i < text.length; i++) this.bytes[i] = text.charCodeAt(i);
    this.length = text.length;
  }

  next(): void {
    const { bytes } = this;
    for (let i = this.length - 1; i >= 0; i--) {
      const digit = bytes[i] as number;
      if (digit !== NINE) {
        bytes[i] = digit + 1;
        return;
      }
      bytes[i] = ZERO;
    }
    bytes.copyWithin(1, 0, this.length);
    bytes[0] = ZERO + 1;
    this.length++;
  }
}

/** The digits of 0 to 999 as three bytes of a little-endian word. */
const THREE = Int32Array.from({ length: 1000 }, (_, i) => {
  const digit = (unit: number) => ZERO + (Math.floor(i / unit) % 10);
  return digit(100) | (digit(10) << 8) | (digit(1) << 16);
});
const DOT = 46;

const MILLION = 1_000_000n;
const MOST = BigInt(Number.MAX_SAFE_INTEGER);

/**
 * The time of a tick, in seconds with six decimals, a half rounded up: tick · den / num, for ticks
 * that mostly follow one another. It counts millionths and their rest in whole numbers, so that
 * nothing is lost however long it counts.
 */
export class TimeCounter {
  private readonly seconds = new Counter();
  private readonly stepSeconds: number;
  private readonly stepMicros: number;
  private readonly stepRest: number;
  private readonly whole: number;
  private micros = 0;
  private rest = 0;

  /** Ask `suits` first. */
  constructor(private readonly clock: Clock) {
    // In halves of a step of the rest, so that the half to be rounded up is a whole number.
    const step = 2n * clock.den * MILLION;
    const under = 2n * clock.num;
    this.whole = Number(under);
    this.stepRest = Number(step % under);
    this.stepMicros = Number((step / under) % MILLION);
    this.stepSeconds = Number(step / under / MILLION);
  }

  /** Whether a clock's numbers are small enough to be counted like this; nearly all are. */
  static suits({ num, den }: Clock): boolean {
    return num * 4n <= MOST && den <= num * 100n;
  }

  set(tick: number): void {
    const { num, den } = this.clock;
    const halves = 2n * BigInt(tick) * den * MILLION + num;
    const micros = halves / (2n * num);
    this.rest = Number(halves % (2n * num));
    this.micros = Number(micros % MILLION);
    this.seconds.set(micros / MILLION);
  }

  next(): void {
    this.micros += this.stepMicros;
    this.rest += this.stepRest;
    if (this.rest >= this.whole) {
      this.rest -= this.whole;
      this.micros++;
    }
    if (this.micros >= 1_000_000) {
      this.micros -= 1_000_000;
      this.seconds.next();
    }
    for (let i = 0; i < this.stepSeconds; i++) this.seconds.next();
  }

  /** Writes `12.033333`, and says where it ends. */
  write(into: DataView, at: number): number {
    const end = this.seconds.write(into, at);
    const thousands = (this.micros / 1000) | 0;
    into.setUint32(end, DOT | ((THREE[thousands] as number) << 8), true);
    into.setUint32(end + 4, THREE[this.micros - thousands * 1000] as number, true);
    return end + 7;
  }
}
