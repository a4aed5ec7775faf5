import { type Choices, Resolver } from '../model/resolve.js';
import type { Scope } from '../model/scope.js';
import type { RepeatStep, Sequence } from '../model/steps.js';
import type { RouteDeclaration, Unit } from '../syntax/tree.js';
import { compile } from './compile.js';
import { knownOf } from './context.js';
import { start } from './atoms.js';
import { Follower } from './follow.js';
import { Places } from './places.js';
import { startsOf } from './starts.js';

export interface Nominal {
  readonly sequence: Sequence;
  /** How often a repeat is played: for `until` what the log says, else the low end. */
  readonly repeatCount: (step: RepeatStep) => number;
}

/**
 * The nominal course of a route: ranges at their low end, one way at each `choose`, and each
 * `until` with the fewest repetitions, not under its minimum, that bring the first start spot
 * to its spot by the log (the minimum where the log does not say).
 */
export function nominalRoute(
  route: RouteDeclaration,
  unit: Unit,
  scope: Scope,
  choices: Choices = new Map(),
): Nominal {
  const resolver = new Resolver(scope, choices);
  const sequence = resolver.resolve(route.body, unit);
  const counts = new Map<RepeatStep, number>();
  const repeatCount = (step: RepeatStep): number => counts.get(step) ?? step.lo;
  if (!hasUntil(sequence)) return { sequence, repeatCount };
  const { log, grounds } = knownOf(scope);
  const first = startsOf(route, log)?.list[0];
  if (first === undefined) return { sequence, repeatCount };
  const places = new Places();
  places.add(first, start(first));
  const watch = {
    until(step: RepeatStep, result: { arrived: { times: number }[] }): void {
      const times = result.arrived[0]?.times;
      if (times !== undefined && !counts.has(step)) counts.set(step, times);
    },
  };
  new Follower(log, grounds, { watch, likely: true }).follow(compile(sequence, log.tokens), places);
  return { sequence, repeatCount };
}

function hasUntil(sequence: Sequence): boolean {
  const seen = new Set<Sequence>();
  const stack = [sequence];
  for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    for (const step of next.steps) {
      if (step.kind === 'repeat' && step.repeat.open) return true;
      if (step.kind === 'repeat' || step.kind === 'group' || step.kind === 'hold') {
        stack.push(step.body);
      }
    }
  }
  return false;
}
