import type { Scope } from '../model/scope.js';
import type { RepeatStep } from '../model/steps.js';
import { type Atom, atRest, keyOf } from './atoms.js';
import { compile } from './compile.js';
import { knownOf } from './context.js';
import { Follower } from './follow.js';
import { orbits } from './orbit.js';
import { UNKNOWN } from './places.js';

/** What repeating one item does to a set of starts. Times count repetitions of the item. */
export interface Settling {
  /** The cycles that starts end in, each from its least name on. */
  readonly cycles: readonly (readonly string[])[];
  /** The longest tail: after so many times every start that stays known is in a cycle. */
  readonly after: number;
  /** Starts that leave the log before they settle. */
  readonly lost: readonly string[];
  readonly starts: number;
}

/**
 * Repeats the body of a step from each start without end and finds tails and cycles. Where a
 * row has several outcomes the most sighted one is taken.
 */
export function settling(step: RepeatStep, scope: Scope, starts: readonly number[]): Settling {
  const { log, grounds } = knownOf(scope);
  // The gap in front changes nothing for a character at rest, and the body comes with it again.
  const steps = [...step.between, ...step.body.steps];
  const again = compile({ steps, first: undefined, last: undefined }, log.tokens);
  const round = new Follower(log, grounds, { likely: true }).round(again);
  const next = (atom: Atom): Atom | undefined => {
    const [to] = round(atom);
    return to?.place === UNKNOWN ? undefined : to;
  };
  const atoms = starts.map((place) => ({ place, ahead: 0 }));
  const found = orbits(atoms, next, keyOf);
  const cycles = new Set(found.flatMap((orbit) => (orbit === undefined ? [] : [orbit.cycle])));
  // One circle of spots can be gone round in several phases of a row over several times.
  const named = new Map<string, readonly string[]>();
  for (const cycle of cycles) {
    const names = rotated(atRest(cycle).map(({ place }) => log.name(place)));
    named.set(names.join(' '), names);
  }
  return {
    cycles: [...named.values()].sort((a, b) => ((a[0] ?? '') < (b[0] ?? '') ? -1 : 1)),
    after: found.reduce((most, orbit) => Math.max(most, orbit?.tail ?? 0), 0),
    lost: starts.filter((_, i) => found[i] === undefined).map((place) => log.name(place)),
    starts: starts.length,
  };
}

/** A cycle from its least name on. */
export function rotated(names: readonly string[]): readonly string[] {
  let least = 0;
  for (let i = 1; i < names.length; i++) if ((names[i] ?? '') < (names[least] ?? '')) least = i;
  return [...names.slice(least), ...names.slice(0, least)];
}
