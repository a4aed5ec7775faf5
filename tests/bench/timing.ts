/** Something to time: one call does the work once, and returns what must not be optimised away. */
export interface Case {
  readonly name: string;
  readonly run: () => unknown;
}

export interface Timing {
  readonly rounds?: number;
  /** Time each case runs in a round at least, in milliseconds. */
  readonly slice?: number;
  /** Time each case runs before the first round, in milliseconds. */
  readonly warm?: number;
}

let sink: unknown;

/**
 * Milliseconds a call of each case, as the median of several rounds. The cases take turns, so
 * that a machine that slows down for a while slows all of them, and every round begins with
 * another one. No garbage collection is forced in between: it would throw away compiled code
 * as well, and the rest would be a measurement of compilers.
 */
export function interleaved(cases: readonly Case[], timing: Timing = {}): Map<string, number> {
  const { rounds = 31, slice = 25, warm = 400 } = timing;
  for (const { run } of cases) spend(run, warm);
  const samples = cases.map((): number[] => []);
  for (let round = 0; round < rounds; round++) {
    for (let k = 0; k < cases.length; k++) {
      const at = (k + round) % cases.length;
      const one = cases[at];
      if (one === undefined) continue;
      samples[at]?.push(spend(one.run, slice));
    }
  }
  return new Map(cases.map(({ name }, k) => [name, median(samples[k] ?? [])]));
}

/**
 * Milliseconds of processor time a call, the collection of its garbage included. The clock on
 * the wall would add what other processes do meanwhile, and would add more to what allocates
 * more, since the threads that collect wait for each other.
 */
function spend(run: () => unknown, atLeast: number): number {
  const begin = process.cpuUsage();
  for (let calls = 1; ; calls++) {
    sink = run();
    const { user, system } = process.cpuUsage(begin);
    const spent = (user + system) / 1000;
    if (spent >= atLeast) return spent / calls;
  }
}

/**
 * Milliseconds by the clock on the wall, of the fastest of several goes. For work so long that
 * much of it is collecting garbage, beside which it runs: processor time would count it twice.
 */
export function fastest(run: () => unknown, goes: number, slice = 1): number {
  let best = Infinity;
  for (let k = 0; k < goes; k++) {
    const begin = performance.now();
    let spent = 0;
    let calls = 0;
    while (spent < slice) {
      sink = run();
      calls++;
      spent = performance.now() - begin;
    }
    best = Math.min(best, spent / calls);
  }
  return best;
}

/** The last result, kept so that no engine may drop the work that made it. */
export function lastResult(): unknown {
  return sink;
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const high = sorted[middle] ?? NaN;
  return sorted.length % 2 === 1 ? high : (high + (sorted[middle - 1] ?? NaN)) / 2;
}
