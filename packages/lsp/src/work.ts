import type { Host } from './host.js';

/** Work in steps: each `yield` is a place where it can be interrupted or dropped. */
export type Steps<T> = Generator<unknown, T, void>;

/** Thrown to whoever waits for work that was dropped. */
export class Dropped extends Error {
  override readonly name = 'Dropped';
}

/** Says whether work is still wanted. */
export interface Wanted {
  readonly isCancellationRequested: boolean;
}

/** Answers come before findings, findings of what is open before those of everything else. */
export type Urgency = 'answer' | 'open' | 'rest';
const ORDER: readonly Urgency[] = ['answer', 'open', 'rest'];

/** Milliseconds of work between two looks at the messages. */
const TURN = 8;

/** How often in a row messages may put work off: a client that never stops talking gets answers too. */
const MOST_HOLDS = 64;

interface Job {
  readonly steps: Steps<unknown>;
  readonly wanted: Wanted | undefined;
  done(value: unknown): void;
  failed(error: unknown): void;
}

/**
 * Shares the thread among pieces of work. However many there are, all together run for one turn;
 * then messages are read, and work that is no longer wanted goes.
 */
export class Work {
  readonly #jobs: Readonly<Record<Urgency, Job[]>> = { answer: [], open: [], rest: [] };
  #waiting = false;
  #held = false;
  #holds = 0;

  constructor(readonly host: Pick<Host, 'now' | 'defer' | 'deferBehindMessages'>) {}

  /** The result of the steps. Rejects with `Dropped` once they are no longer wanted. */
  run<T>(steps: Steps<T>, urgency: Urgency, wanted?: Wanted): Promise<T> {
    return new Promise<T>((resolve, reject) => {
      const done = resolve as (value: unknown) => void;
      this.#jobs[urgency].push({ steps, wanted, done, failed: reject });
      this.#wake();
    });
  }

  /** A message came: more may wait behind it, and what they say can make work needless. */
  hold(): void {
    this.#held = true;
  }

  #wake(): void {
    if (this.#waiting) return;
    this.#waiting = true;
    if (this.#held) this.host.deferBehindMessages(() => this.#turn());
    else this.host.defer(() => this.#turn());
  }

  #turn(): void {
    this.#waiting = false;
    if (this.#held && this.#holds < MOST_HOLDS) {
      this.#holds++;
      this.#held = false;
      this.#waiting = true;
      this.host.deferBehindMessages(() => this.#turn());
      return;
    }
    this.#held = false;
    this.#holds = 0;
    const until = this.host.now() + TURN;
    const inTime = (): boolean => this.host.now() < until;
    for (const urgency of ORDER) this.#sweep(urgency);
    for (const urgency of ORDER) {
      const jobs = this.#jobs[urgency];
      while (jobs.length > 0 && inTime()) {
        const job = jobs.shift();
        if (job !== undefined && !advance(job, inTime)) jobs.push(job);
      }
    }
    if (ORDER.some((urgency) => this.#jobs[urgency].length > 0)) this.#wake();
  }

  #sweep(urgency: Urgency): void {
    const jobs = this.#jobs[urgency];
    const kept = jobs.filter((job) => job.wanted?.isCancellationRequested !== true);
    if (kept.length === jobs.length) return;
    for (const job of jobs) if (!kept.includes(job)) drop(job);
    jobs.splice(0, jobs.length, ...kept);
  }
}

function drop(job: Job): void {
  job.steps.return(undefined);
  job.failed(new Dropped('no longer wanted'));
}

/** Whether the job is over: done or failed. */
function advance(job: Job, inTime: () => boolean): boolean {
  try {
    do {
      // Messages are not read within a turn, but one step may take back the wish for another.
      if (job.wanted?.isCancellationRequested === true) {
        drop(job);
        return true;
      }
      const { done, value } = job.steps.next();
      if (done === true) {
        job.done(value);
        return true;
      }
    } while (inTime());
    return false;
  } catch (error) {
    job.failed(error);
    return true;
  }
}
