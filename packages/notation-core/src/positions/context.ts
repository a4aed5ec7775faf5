import { Resolver } from '../model/resolve.js';
import type { Scope } from '../model/scope.js';
import { Memo } from '../text/memo.js';
import { Grounds } from './ground.js';
import { Log } from './log.js';

/** The log and the grounds of a scope, compiled once. */
export interface Known {
  readonly log: Log;
  readonly grounds: Grounds;
  readonly resolver: Resolver;
}

const known = new Memo<Scope, Known>();

export function knownOf(scope: Scope): Known {
  let found = known.get(scope);
  if (found === undefined) {
    const resolver = new Resolver(scope);
    const log = new Log(scope, resolver);
    found = { log, grounds: new Grounds(log, scope, resolver), resolver };
    known.set(scope, found);
  }
  return found;
}

/**
 * Keeps what is known of a scope for another one with the same game, spots, log and grounds, in
 * which other phrases may have changed.
 */
export function adoptKnown(scope: Scope, from: Scope): void {
  const old = known.get(from);
  if (old !== undefined) known.set(scope, { ...old, resolver: new Resolver(scope) });
}

/** How many items and places a log has met: it grows with what is asked of it. */
export function sizeOfKnown(scope: Scope): number {
  const log = known.get(scope)?.log;
  return log === undefined ? 0 : log.names.length + log.tokens.size;
}
