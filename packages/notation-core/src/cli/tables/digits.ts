import type { Clock } from '../../timeline/clock.js';

const ZERO = 48;
const NINE = 57;

/** A whole number as its digits, for counting up by one: nearly always one byte changes. */
export class Counter {
  readonly digits = new Uint8Array(20);
  length = 0;

  /** A whole number from 0 on, held exactly, of at most 19 digits. */
  set(value: number | bigint): void {
    const text = String(value);
    for (let i = 0; i < text.length; i++) this.digits[i] = text.charCodeAt(i);
    this.length = text.length;
  }

  next(): void {
    const { digits } = this;
    for (let i = this.length - 1; i >= 0; i--) {
      const digit = digits[i] ?? ZERO;
      if (digit !== NINE) {
        digits[i] = digit + 1;
        return;
      }
      digits[i] = ZERO;
    }
    digits.copyWithin(1, 0, this.length);
    digits[0] = ZERO + 1;
    this.length++;
  }

  /** Writes the number, and says where it ends. */
  write(into: Uint8Array, at: number): number {
    const { digits, length } = this;
    for (let i = 0; i < length; i++) into[at + i] = digits[i] as number;
    return at + length;
  }
}

/** The three digits of 0 to 999, one behind another. */
const THREE = Uint8Array.from({ length: 3000 }, (_, i) => {
  const digit = i % 3;
  return ZERO + (Math.floor(Math.floor(i / 3) / 10 ** (2 - digit)) % 10);
});

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
  write(into: Uint8Array, at: number): number {
    const end = this.seconds.write(into, at);
    const high = Math.floor(this.micros / 1000);
    const front = high * 3;
    const back = (this.micros - high * 1000) * 3;
    into[end] = 46;
    into[end + 1] = THREE[front] as number;
    into[end + 2] = THREE[front + 1] as number;
    into[end + 3] = THREE[front + 2] as number;
    into[end + 4] = THREE[back] as number;
    into[end + 5] = THREE[back + 1] as number;
    into[end + 6] = THREE[back + 2] as number;
    return end + 7;
  }
}
