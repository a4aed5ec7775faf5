import { type Choices, Resolver } from '../model/resolve.js';
import type { Scope } from '../model/scope.js';
import type { RepeatStep } from '../model/steps.js';
import type { Item, RouteDeclaration, SeenRow, Unit } from '../syntax/tree.js';
import { compile } from './compile.js';
import { knownOf } from './context.js';
import { Follower, type UntilResult } from './follow.js';
import type { Outcome } from './log.js';
import { UNKNOWN } from './places.js';
import { rotated, type Settling, settling } from './settling.js';
import { startsOf } from './starts.js';

/** A row that proves a step, with its sightings. */
export interface Proof {
  readonly from: string;
  readonly to: string;
  readonly sightings: number;
  readonly row: SeenRow;
  readonly unit: Unit;
}

/** One item of a route and where the character can be behind it. */
export interface TraceStep {
  /** The items as written; several where they are joined. */
  readonly items: readonly Item[];
  readonly unit: Unit;
  /** Names without `@`, sorted. */
  readonly spots: readonly string[];
  /** Whether the character can also be somewhere the log does not say. */
  readonly unknown: boolean;
  /** Whether a row reaches across this item: its end is known only further on. */
  readonly within: boolean;
  /** The rows used since the step before. */
  readonly proofs: readonly Proof[];
  /** For `until`: how often each start needs, or where it is caught. */
  readonly until: UntilReport | undefined;
  /** For a repeat from several places: the cycles that they end in. */
  readonly settles: Settling | undefined;
}

export interface UntilReport {
  readonly spot: string;
  readonly arrived: readonly { readonly from: string; readonly times: number }[];
  /** For each cycle that is never left: from where, after how many more times at most. */
  readonly never: readonly {
    readonly from: readonly string[];
    readonly tail: number;
    readonly cycle: readonly string[];
  }[];
}

export interface RouteTrace {
  readonly name: string;
  /** Sorted; undefined where the route does not say, and nothing is followed. */
  readonly starts: readonly string[] | undefined;
  readonly steps: readonly TraceStep[];
}

/** Follows a route item by item. */
export function traceRoute(
  route: RouteDeclaration,
  unit: Unit,
  scope: Scope,
  choices: Choices = new Map(),
): RouteTrace {
  const { log, grounds } = knownOf(scope);
  const name = route.name?.name ?? '';
  const starts = startsOf(route, log);
  if (starts === undefined) return { name, starts: undefined, steps: [] };
  const groups: Item[][] = [];
  const sequence = new Resolver(scope, choices).resolve(route.body, unit);
  const nodes = compile(sequence, log.tokens, { items: groups });
  const steps: TraceStep[] = [];
  let proofs: Proof[] = [];
  // Most items use one row or two; a hash is made where they use many.
  const used: Outcome[] = [];
  const usedToo = new Set<Outcome>();
  const fresh = (outcome: Outcome): boolean => {
    if (used.includes(outcome) || usedToo.has(outcome)) return false;
    if (used.length < 16) used.push(outcome);
    else usedToo.add(outcome);
    return true;
  };
  let until: UntilReport | undefined;
  let settles: Settling | undefined;
  const nameOf = (place: number): string => log.name(place);
  const watch = {
    row(from: number, outcome: Outcome): void {
      if (!fresh(outcome)) return;
      const { to, count: sightings, row, unit: at } = outcome;
      proofs.push({ from: nameOf(from), to: nameOf(to), sightings, row, unit: at });
    },
    until(_step: RepeatStep, result: UntilResult): void {
      until = {
        spot: nameOf(result.target),
        arrived: result.arrived.map(({ place, times }) => ({ from: nameOf(place), times })),
        never: byCycle(result, nameOf),
      };
    },
    repeat(step: RepeatStep, places: { list: readonly number[] } | undefined): void {
      const known = places?.list.filter((place) => place !== UNKNOWN) ?? [];
      settles = known.length > 1 ? settling(step, scope, known) : undefined;
    },
    item(item: number, places: { list: readonly number[] } | undefined, ahead: boolean): void {
      const list = places?.list ?? [];
      const spots: string[] = [];
      for (const place of list) if (place !== UNKNOWN) spots.push(nameOf(place));
      if (spots.length > 1) spots.sort(byName);
      steps.push({
        items: groups[item] ?? [],
        unit,
        spots,
        unknown: list.includes(UNKNOWN),
        within: ahead,
        proofs,
        until,
        settles,
      });
      proofs = [];
      used.length = 0;
      usedToo.clear();
      until = undefined;
      settles = undefined;
    },
  };
  new Follower(log, grounds, { watch }).follow(nodes, starts);
  return { name, starts: starts.list.map(nameOf).sort(byName), steps };
}

function byCycle({ never }: UntilResult, nameOf: (place: number) => string): UntilReport['never'] {
  const names = new Map<readonly number[], { cycle: readonly string[]; key: string }>();
  const groups = new Map<string, { cycle: readonly string[]; from: Set<string>; tail: number }>();
  for (const { place, orbit } of never) {
    let known = names.get(orbit.cycle);
    if (known === undefined) {
      const cycle = rotated(orbit.cycle.map(nameOf));
      // One circle of spots can be gone round in several phases of a row over several times.
      known = { cycle, key: cycle.join(' ') };
      names.set(orbit.cycle, known);
    }
    const { cycle, key } = known;
    const group = groups.get(key) ?? { cycle, from: new Set(), tail: 0 };
    groups.set(key, group);
    group.from.add(nameOf(place));
    group.tail = Math.max(group.tail, orbit.tail);
  }
  return [...groups.values()].map(({ cycle, from, tail }) => ({
    from: [...from].sort(byName),
    tail,
    cycle,
  }));
}

/** By code unit, the same on every machine. */
export function byName(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
