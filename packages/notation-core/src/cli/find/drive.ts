import type { Finder } from '../../positions/find.js';
import { Progress } from '../progress.js';
import type { Stopped } from './show.js';

export interface Limits {
  readonly seconds: number;
  /** In millions of bytes. */
  readonly memory: number;
}

/** Between two looks at signals and memory, in milliseconds. */
const BREATH = 50;

/** Runs a search to its end or to a limit; Ctrl-C ends it with what was found. */
export async function drive(finder: Finder, limits: Limits): Promise<Stopped> {
  const progress = new Progress('finding routes, states looked at');
  const begin = Date.now();
  const most = limits.memory * 1e6;
  let breath = begin;
  // In an object, since it changes behind the back of the loop.
  const asked = { toStop: false };
  const interrupt = (): void => {
    asked.toStop = true;
  };
  process.once('SIGINT', interrupt);
  try {
    for (const _ of finder.run()) {
      const now = Date.now();
      if (now - begin >= limits.seconds * 1000) return 'time';
      if (now - breath < BREATH) continue;
      breath = now;
      progress.at(finder.findings.explored);
      if (process.memoryUsage.rss() > most) return 'memory';
      await new Promise<void>((resolve) => setImmediate(resolve));
      if (asked.toStop) return 'interrupt';
    }
    return undefined;
  } finally {
    progress.end();
    process.off('SIGINT', interrupt);
  }
}
