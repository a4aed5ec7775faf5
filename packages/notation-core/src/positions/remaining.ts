import type { Scope } from '../model/scope.js';
import type { ClaimStep, Sequence, Step } from '../model/steps.js';
import type { Item, RouteDeclaration, Unit } from '../syntax/tree.js';
import { buildTimeline } from '../timeline/build.js';
import { compile } from './compile.js';
import { knownOf } from './context.js';
import { Follower } from './follow.js';
import { nominalRoute } from './nominal.js';
import type { Outcome } from './log.js';
import { Places, UNKNOWN } from './places.js';
import { startsOf } from './starts.js';

/** A claim further along a route. */
export interface Ahead {
  readonly spot: number;
  /** Ticks of the nominal route up to the claim, what parts it from the next item included. */
  readonly ticks: number;
}

/**
 * A spot that the character can stand on in a route, where the nominal course first meets it;
 * where it does not, where any start or outcome first does.
 */
export interface OnRoute {
  readonly spot: number;
  readonly route: string;
  /** The spot of `to`, or of a claim at the very end; undefined where nothing says. */
  readonly goal: number | undefined;
  /** Ticks of the nominal route from here to its end. */
  readonly ticks: number;
  /** The next spot that is claimed, unless that is the end. */
  readonly next: Ahead | undefined;
}

/**
 * The spots along a route: its starts, where the log says that the character can be behind
 * each item, and its claims; with what is left of the nominal route from there. Empty where
 * the route says no start, or is longer than numbers are exact.
 */
export function alongRoute(route: RouteDeclaration, unit: Unit, scope: Scope): OnRoute[] {
  const { log, grounds } = knownOf(scope);
  const starts = startsOf(route, log);
  if (starts === undefined) return [];
  const { sequence, repeatCount } = nominalRoute(route, unit, scope);
  const steps = withoutWays(sequence.steps);

  // Where each item and claim ends, as an index into the steps.
  const ends = new Map<Item | ClaimStep, number>();
  steps.forEach((step, i) => {
    if (step.kind === 'claim') ends.set(step, i + 1);
    else if (!isGap(step)) ends.set(step.source.item, i + 1);
  });
  const groups: Item[][] = [];
  const body = { steps, first: sequence.first, last: sequence.last };
  const nodes = compile(body, log.tokens, { items: groups });
  /** Where each spot is first met, as an index into the steps. */
  const met = (from: Places, likely: boolean, claims?: Claimed[]): Map<number, number> => {
    const first = new Map<number, number>();
    const stand = (spot: number, index: number): void => {
      if (spot !== UNKNOWN && index < (first.get(spot) ?? Infinity)) first.set(spot, index);
    };
    for (const each of from.list) stand(each, 0);
    // Spots passed inside an item (a repeat, a phrase) count where the item begins.
    let passed: number[] = [];
    let begun = 0;
    const watch = {
      row(_from: number, { to }: Outcome): void {
        passed.push(to);
      },
      item(item: number, places: Places | undefined, ahead: boolean): void {
        const last = groups[item]?.at(-1);
        const end = last === undefined ? undefined : ends.get(last);
        if (end === undefined) return;
        const behind = restAfter(steps, end);
        for (const place of places?.list ?? []) stand(place, behind);
        if (ahead) return;
        for (const place of passed) if (places?.has(place) !== true) stand(place, begun);
        passed = [];
        begun = behind;
      },
      claim(claim: ClaimStep): void {
        const end = ends.get(claim);
        if (end === undefined) return; // Inside a group or repeat: no place in the whole.
        const spot = log.spot(claim.spot);
        const index = restAfter(steps, end);
        stand(spot, index);
        claims?.push({ index, spot });
      },
    };
    new Follower(log, grounds, { watch, likely }).follow(nodes, from);
    return first;
  };
  // A spot stands where the nominal course meets it, even if the route may begin there as well:
  // a route from anywhere begins everywhere.
  const claims: Claimed[] = [];
  const nominal = new Places();
  for (const spot of starts.list.slice(0, 1)) nominal.add(spot, starts.trails[0]);
  const first = met(nominal, true, claims);
  for (const [spot, index] of met(starts, false)) if (!first.has(spot)) first.set(spot, index);

  const cuts = [...new Set([...first.values(), ...claims.map(({ index }) => index), steps.length])];
  const ticks = ticksAt(steps, cuts, (part) => {
    const timeline = buildTimeline({ steps: part, first: undefined, last: undefined }, scope.game, {
      repeatCount,
    });
    return 'tooLong' in timeline ? Infinity : timeline.ticks;
  });
  const whole = ticks.get(steps.length) ?? 0;
  if (!Number.isSafeInteger(whole)) return [];
  const atEnd = claims.find(({ index }) => index === steps.length)?.spot;
  const goal = route.to === undefined ? atEnd : log.spot(route.to.name);
  const found: OnRoute[] = [];
  for (const [spot, index] of first) {
    const here = ticks.get(index) ?? 0;
    const next = claims.find((claim) => claim.index > index && claim.index < steps.length);
    found.push({
      spot,
      route: route.name?.name ?? '',
      goal,
      ticks: whole - here,
      next:
        next === undefined
          ? undefined
          : { spot: next.spot, ticks: (ticks.get(next.index) ?? 0) - here },
    });
  }
  return found;
}

interface Claimed {
  readonly index: number;
  readonly spot: number;
}

/** The steps with the way taken at each `choose` in its place. */
function withoutWays(steps: readonly Step[]): Step[] {
  const flat: Step[] = [];
  const stack: { steps: readonly Step[]; at: number }[] = [{ steps, at: 0 }];
  for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
    const step = top.steps[top.at++];
    if (step === undefined) stack.pop();
    else if (step.kind === 'group' && step.of === 'way') {
      stack.push({ steps: step.body.steps, at: 0 });
    } else flat.push(step);
  }
  return flat;
}

/** The pace between two items, which belongs to neither. */
function isGap(step: Step): boolean {
  return (step.kind === 'wait' || step.kind === 'settle') && !step.written;
}

/** The step with which the next item begins. */
function restAfter(steps: readonly Step[], end: number): number {
  let index = end;
  for (let step = steps[index]; step !== undefined; step = steps[++index]) {
    if (step.kind !== 'claim' && !isGap(step)) break;
  }
  return index;
}

/**
 * Ticks in front of each cut, in one pass: a stretch between two cuts is measured with the
 * steps in front of it back to the last that holds an input, since `~` looks no further.
 */
export function ticksAt(
  steps: readonly Step[],
  cuts: readonly number[],
  measure: (steps: readonly Step[]) => number,
): Map<number, number> {
  const at = new Map<number, number>();
  const known = new Map<Sequence, boolean>();
  let before = 0;
  let sum = 0;
  for (const cut of [...cuts].sort((a, b) => a - b)) {
    if (cut > before) {
      let from = before;
      for (let held = false; from > 0 && !held;) held = holds(steps[--from], known);
      sum += measure(steps.slice(from, cut)) - measure(steps.slice(from, before));
    }
    at.set(cut, sum);
    before = cut;
  }
  return at;
}

function holds(step: Step | undefined, known: Map<Sequence, boolean>): boolean {
  switch (step?.kind) {
    case 'press':
      return step.held !== 0 && step.lo > 0;
    case 'hold':
      // What is in it may take no tick at all.
      return step.held !== 0 && step.body.steps.some(takesTime);
    case 'window':
      return step.parts.some((part) => part.held !== 0 && part.lo > 0);
    case 'group':
    case 'repeat': {
      const { body } = step;
      let inside = known.get(body);
      if (inside === undefined) {
        inside = body.steps.some((each) => holds(each, known));
        known.set(body, inside);
      }
      return inside;
    }
    default:
      return false;
  }
}

function takesTime(step: Step): boolean {
  return (step.kind === 'press' || step.kind === 'wait') && step.lo > 0;
}
