import type { Scope } from '../model/scope.js';
import type { RepeatStep } from '../model/steps.js';
import { compile, type Node } from './compile.js';
import { knownOf } from './context.js';
import { Follower, start } from './follow.js';
import { Places, UNKNOWN } from './places.js';

/** What repeating one item does to every logged start. Times count presses of the item. */
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
 * Repeats the body of a step from each start and finds tails and cycles. Where a row has
 * several outcomes the most sighted one is taken.
 */
export function settling(step: RepeatStep, scope: Scope, starts: readonly number[]): Settling {
  const { log, grounds } = knownOf(scope);
  const once = compile(
    { steps: [...step.body.steps, ...step.between], first: undefined, last: undefined },
    log.tokens,
  );
  return settlingOf(once, starts, {
    scope,
    follower: new Follower(log, grounds, { likely: true }),
  });
}

function settlingOf(
  once: readonly Node[],
  starts: readonly number[],
  { scope, follower }: { scope: Scope; follower: Follower },
): Settling {
  const { log } = knownOf(scope);
  const next = new Map<number, number>();
  const step = (place: number): number => {
    let to = next.get(place);
    if (to === undefined) {
      const places = new Places();
      places.add(place, start(place));
      to = follower.follow(once, places).list[0] ?? UNKNOWN;
      next.set(place, to);
    }
    return to;
  };
  // Depth to its cycle of each place, each worked out once.
  const depth = new Map<number, number>();
  const cycles: number[][] = [];
  const lost: string[] = [];
  let after = 0;
  for (const from of starts) {
    const course: number[] = [];
    const at = new Map<number, number>();
    let place = from;
    while (place !== UNKNOWN && !depth.has(place) && !at.has(place)) {
      at.set(place, course.length);
      course.push(place);
      place = step(place);
    }
    let base = place === UNKNOWN ? Infinity : depth.get(place);
    let end = course.length;
    if (base === undefined) {
      end = at.get(place) ?? 0;
      const cycle = course.slice(end);
      for (const each of cycle) depth.set(each, 0);
      cycles.push(cycle);
      base = 0;
    }
    for (let i = end - 1; i >= 0; i--) depth.set(course[i] ?? 0, base + end - i);
    const mine = depth.get(from) ?? Infinity;
    if (mine === Infinity) lost.push(log.name(from));
    else after = Math.max(after, mine);
  }
  const named = cycles.map((cycle) => rotated(cycle.map((place) => log.name(place))));
  return { cycles: named, after, lost, starts: starts.length };
}

function rotated(names: string[]): string[] {
  let least = 0;
  for (let i = 1; i < names.length; i++) if ((names[i] ?? '') < (names[least] ?? '')) least = i;
  return [...names.slice(least), ...names.slice(0, least)];
}
