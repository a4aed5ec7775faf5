import { type Choices, Resolver } from '../model/resolve.js';
import type { Declared, Scope } from '../model/scope.js';
import type { RepeatStep, Sequence, TimedStep } from '../model/steps.js';
import type { Item, RescueDeclaration, RouteDeclaration, Unit } from '../syntax/tree.js';
import { compile } from './compile.js';
import { knownOf } from './context.js';
import { start } from './atoms.js';
import { Follower, type UntilResult, type Watch } from './follow.js';
import type { Outcome } from './log.js';
import { Places, type Trail, UNKNOWN } from './places.js';
import { type PositionProblem, Problems } from './problems.js';
import { rangeProblems } from './ranges.js';
import { startsOf } from './starts.js';
import { pathTo, placeList, placeName } from './words.js';

/** What following showed of one route: the spots passed on the way, for its rescues. */
export interface RouteFacts {
  readonly problems: readonly PositionProblem[];
  /** Places that the character can be at behind some row. */
  readonly passed: ReadonlySet<number>;
  /** Spots claimed on the way, with how often. */
  readonly claimed: ReadonlyMap<string, number>;
}

/**
 * Follows a route with the most sighted outcome of each row from every start, and says what
 * does not hold. Less sighted outcomes are slips, which odds and rescues speak of.
 */
export function analyseRoute(
  route: RouteDeclaration,
  unit: Unit,
  scope: Scope,
  choices: Choices = new Map(),
): RouteFacts {
  const { log, grounds } = knownOf(scope);
  const problems = new Problems();
  const passed = new Set<number>();
  const claimed = new Map<string, number>();
  const starts = startsOf(route, log);
  if (starts === undefined) return { problems: [], passed, claimed };
  reportStarts(route, unit, scope, problems);
  for (const place of starts.list) passed.add(place);
  const sequence = new Resolver(scope, choices).resolve(route.body, unit);
  const nodes = compile(sequence, log.tokens);
  const unknowns = new Map<TimedStep, { places: number[]; trail: Trail | undefined }>();
  const told = new Set<Outcome>();
  const watch: Watch = {
    row(_from, outcome, step) {
      passed.add(outcome.to);
      if (outcome.count > 1 || told.has(outcome)) return;
      told.add(outcome);
      single(outcome, placeOfStep(step, unit, route), problems);
    },
    unknown(place, step, trail) {
      if (step === undefined) return;
      const known = unknowns.get(step);
      if (known === undefined) unknowns.set(step, { places: [place], trail });
      else known.places.push(place);
    },
    off(place, step, trail) {
      const at = placeOfStep(step, unit, route);
      problems.add('off-ground', at, {
        from: placeName(log, place),
        item: textAt(at),
        ground: grounds.ground(place)?.name ?? '',
        path: pathTo(log, trail),
      });
    },
    claim(claim, places) {
      claimed.set(claim.spot, (claimed.get(claim.spot) ?? 0) + 1);
      const at = claim.unit === unit ? claim : { ...claim, ...headOf(route), unit };
      landing(claim.spot, places, at, scope, problems);
    },
    until(step, result) {
      // Leaving on the sight of a spot claims to stand there: a rescue can go on behind it.
      const spot = log.name(result.target);
      claimed.set(spot, (claimed.get(spot) ?? 0) + 1);
      untilProblems(step, result, unit, route, scope, problems);
    },
  };
  const end = new Follower(log, grounds, { watch, likely: true }).follow(nodes, starts);
  for (const [step, { places, trail }] of unknowns) {
    const at = placeOfStep(step, unit, route);
    problems.add('unknown-landing', at, {
      from: placeList(log, places),
      item: textAt(at),
      path: pathTo(log, trail),
    });
  }
  if (route.to !== undefined && hasSteps(sequence)) {
    landing(
      route.to.name,
      end,
      { unit, start: route.to.start, end: route.to.end },
      scope,
      problems,
    );
  }
  rangeProblems(sequence, starts, unit, scope, problems);
  return { problems: problems.found, passed, claimed };
}

function hasSteps(sequence: Sequence): boolean {
  return sequence.first !== undefined;
}

function reportStarts(route: RouteDeclaration, unit: Unit, scope: Scope, problems: Problems): void {
  if (route.from === undefined || route.from === 'anywhere') return;
  const { log, grounds } = knownOf(scope);
  for (const { spot } of route.from) {
    const place = log.spot(spot.name);
    if (log.root(place) >= 0 || grounds.ground(place) !== undefined) continue;
    problems.add('unproven-start', { unit, start: spot.start, end: spot.end }, {
      spot: `@${spot.name}`,
    }); // prettier-ignore
  }
}

function single(
  { row, unit }: Outcome,
  at: { unit: Unit; start: number; end: number },
  problems: Problems,
): void {
  const first = row.body[0];
  const last = row.body[row.body.length - 1];
  problems.add('single-sighting', at, {
    from: `@${row.from.name}`,
    items: unit.text.slice(first?.start, last?.end),
    to: `@${row.to?.name ?? ''}`,
  });
}

/** A claim or a goal against the places that the log gives. */
export function landing(
  spot: string,
  places: Places,
  at: { unit: Unit; start: number; end: number },
  scope: Scope,
  problems: Problems,
): void {
  const { log } = knownOf(scope);
  const wanted = log.spot(spot);
  const others = places.list.filter((place) => place !== wanted && place !== UNKNOWN);
  const [other] = others;
  if (other === undefined) return;
  problems.add('wrong-landing', at, {
    claim: `@${spot}`,
    spots: placeList(log, others),
    path: pathTo(log, places.trail(other)),
  });
}

function untilProblems(
  step: RepeatStep,
  result: UntilResult,
  unit: Unit,
  route: RouteDeclaration,
  scope: Scope,
  problems: Problems,
): void {
  const { log } = knownOf(scope);
  const until = step.repeat.until;
  const inside = step.source.unit === unit;
  const at =
    inside && until !== undefined
      ? { unit, start: until.start, end: until.end }
      : { unit, ...headOf(route) };
  const target = placeName(log, result.target);
  const [never] = result.never;
  if (never !== undefined) {
    problems.add('never-arrives', at, {
      target,
      from: placeList(
        log,
        result.never.map((each) => each.place),
      ),
      cycle: [...never.orbit.cycle, never.orbit.cycle[0] ?? UNKNOWN]
        .map((place) => placeName(log, place))
        .join(' > '),
      tail: never.orbit.tail,
    });
  }
  const seen = result.visited.filter((place) => place !== result.target);
  alike('until', result.target, seen, at, scope, problems);
}

/** Spots that look like the one the player is to tell apart from them. */
export function alike(
  what: string,
  wanted: number,
  among: readonly number[],
  at: { unit: Unit; start: number; end: number },
  scope: Scope,
  problems: Problems,
): void {
  const { log } = knownOf(scope);
  const cueOf = (place: number): string =>
    scope.spots.get(log.name(place))?.declaration.cue?.value ?? '';
  const cue = cueOf(wanted);
  const others = cue === '' ? among : among.filter((place) => ['', cue].includes(cueOf(place)));
  // A spot without a cue looks like nothing in particular: only where the wanted one has none
  // either, or both have the same, can the player not know.
  const same = cue === '' ? others : others.filter((place) => cueOf(place) === cue);
  if (same.length === 0) return;
  problems.add('look-alikes', at, {
    what,
    spot: placeName(log, wanted),
    others: placeList(log, same),
    cue,
  });
}

/** The rescues of a route, against the facts of all its ways. */
export function analyseRescue(
  rescue: RescueDeclaration,
  unit: Unit,
  scope: Scope,
  factsOf: (route: Declared<RouteDeclaration>) => RouteFacts,
): readonly PositionProblem[] {
  const problems = new Problems();
  const { spot, route: routeName, to } = rescue;
  if (spot === undefined || routeName === undefined) return [];
  const route = scope.routes.get(routeName.name);
  if (route === undefined || route.declaration.from === undefined) return [];
  const { log, grounds } = knownOf(scope);
  const facts = factsOf(route);
  const place = log.spot(spot.name);
  const at = { unit, start: spot.start, end: spot.end };
  const named = { spot: `@${spot.name}`, route: routeName.name };
  if (!facts.passed.has(place) && !reachedBySlip(place, facts.passed, scope)) {
    problems.add('rescue-unreachable', at, { ...named, reason: 'no logged row leads there from a spot of the route' }); // prettier-ignore
  }
  for (const other of scope.rescues) {
    if (other.declaration === rescue) break;
    if (
      other.declaration.spot?.name === spot.name &&
      other.declaration.route?.name === routeName.name
    ) {
      problems.add('rescue-ambiguous', at, { ...named, reason: 'another rescue begins at the same spot' }); // prettier-ignore
    }
  }
  if (to === undefined) return problems.found;
  const join = { unit, start: to.start, end: to.end };
  const claims = facts.claimed.get(to.name) ?? 0;
  if (claims === 0 && route.declaration.to?.name !== to.name) {
    problems.add('rescue-unreachable', join, { ...named, reason: `the route nowhere claims @${to.name}` }); // prettier-ignore
  } else if (claims > 1) {
    problems.add('rescue-ambiguous', join, { ...named, reason: `the route claims @${to.name} ${claims} times` }); // prettier-ignore
  }
  const places = new Places();
  places.add(place, start(place));
  const context = log.paused[place] === true ? 'paused' : 'running';
  const sequence = new Resolver(scope).resolve(rescue.body, unit);
  const steps = context === 'paused' ? openStripped(sequence) : sequence;
  const unknown: Watch = {
    unknown(from, step, trail) {
      const where = placeOfStep(step, unit, rescue);
      problems.add('unknown-landing', where, {
        from: placeName(log, from),
        item: textAt(where),
        path: pathTo(log, trail),
      });
    },
  };
  const follower = new Follower(log, grounds, { watch: unknown, likely: true });
  const end = follower.follow(compile(steps, log.tokens), places);
  landing(to.name, end, join, scope, problems);
  const others = [...facts.passed].filter(
    (each) => each !== place && log.paused[each] === log.paused[place],
  );
  alike('rescue', place, others, at, scope, problems);
  return problems.found;
}

/** A rescue from inside a pause begins in it: its first bracket is already open. */
export function openStripped(sequence: Sequence): Sequence {
  const [first, ...rest] = sequence.steps;
  return first?.kind === 'open' ? { ...sequence, steps: rest } : sequence;
}

const slips = new WeakMap<ReadonlySet<number>, ReadonlySet<number>>();

/** Whether a row, likely or not, leads to the place from one that the route passes. */
function reachedBySlip(place: number, passed: ReadonlySet<number>, scope: Scope): boolean {
  let reached = slips.get(passed);
  if (reached === undefined) {
    const { log } = knownOf(scope);
    const found = new Set<number>();
    log.entries.from.forEach((from, i) => {
      if (!passed.has(from)) return;
      for (const { to } of log.outcomes[log.entries.node[i] ?? -1] ?? []) found.add(to);
    });
    slips.set(passed, found);
    reached = found;
  }
  return reached.has(place);
}

/** Where a step is written in the unit, or the name of the route where it is elsewhere. */
function placeOfStep(
  step: TimedStep | undefined,
  unit: Unit,
  route: RouteDeclaration | RescueDeclaration,
): { unit: Unit; start: number; end: number } {
  const source = step?.source;
  if (source?.unit === unit) {
    const { start: from, end } = wholeItem(source.item);
    return { unit, start: from, end };
  }
  return { unit, ...headOf(route) };
}

function wholeItem(item: Item): { start: number; end: number } {
  return { start: item.start, end: item.end };
}

function headOf(route: RouteDeclaration | RescueDeclaration): { start: number; end: number } {
  const name = route.kind === 'route' ? route.name : route.spot;
  return name === undefined
    ? { start: route.start, end: route.start + 5 }
    : { start: name.start, end: name.end };
}

function textAt(at: { unit: Unit; start: number; end: number }): string {
  return at.unit.text.slice(at.start, Math.min(at.end, at.start + 60));
}
