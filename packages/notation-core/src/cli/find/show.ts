import type { Scope } from '../../model/scope.js';
import { knownOf } from '../../positions/context.js';
import type { FindQuery, Findings } from '../../positions/find.js';
import type { Plan } from '../../positions/plan.js';
import { reasonsFor } from '../../positions/reasons.js';
import { freeName, routeText } from '../../positions/route-text.js';
import { placeList, placeName } from '../../positions/words.js';
import { tickTime } from '../../timeline/clock.js';
import { toDecimal } from '../../text/fraction.js';

/** Why a search ended before it was done; undefined where it was. */
export type Stopped = 'time' | 'memory' | 'interrupt' | undefined;

export interface Shown {
  readonly scope: Scope;
  readonly query: FindQuery;
  readonly anywhere: boolean;
  readonly findings: Findings;
  readonly stopped: Stopped;
  /** The limits, in words. */
  readonly limit: string;
}

/** Routes and rescues to paste, everything else as comments. */
export function findText(shown: Shown): string {
  const { scope, query, findings, anywhere } = shown;
  const { log } = knownOf(scope);
  const taken = new Set(scope.routes.keys());
  const blocks: string[] = [];
  const notes: string[] = [];
  if (shown.stopped !== undefined) notes.push(stoppedText(shown));
  const plans = findings.groups.flatMap((group) => group.plans);
  if (plans.length === 0 && shown.stopped === undefined) {
    const what = `no plan from ${anywhere ? 'anywhere' : placeList(log, query.from)} to ${goalText(shown)}`;
    notes.push(`${what}:`, ...reasonsFor(scope, query, findings).map((reason) => `- ${reason}`));
    if (!findings.exhausted) notes.push('- not everything could be looked at');
  }
  if (findings.isFallback) {
    notes.push('no plan is sure: these count with the most sighted landing of each row only');
  }
  if (notes.length > 0) blocks.push(`${notes.map((note) => `# ${note}`).join('\n')}\n`);
  for (const group of findings.groups) {
    if (findings.groups.length > 1) {
      const cue = scope.spots.get(log.name(group.starts[0] ?? 0))?.declaration.cue?.value ?? '';
      blocks.push(`# where you see "${cue}", at ${placeList(log, group.starts)}:\n`);
    }
    for (const plan of group.plans) {
      const name = freeName(taken);
      taken.add(name);
      const options = { taken, anywhere: anywhere && findings.groups.length === 1 };
      blocks.push(`# ${summary(plan, scope)}\n${routeText(plan, name, options)}`);
    }
  }
  return blocks.join('\n');
}

function goalText({ scope, query }: Shown): string {
  const { log, grounds } = knownOf(scope);
  const { to } = query;
  if (to.kind === 'spot') return placeName(log, to.spot);
  const point = (at: readonly number[]): string => `(${at.map((x) => grounds.show(x)).join(', ')})`;
  const [low, high] = [point(to.low), point(to.high)];
  return low === high ? low : `${low} to ${high}`;
}

function summary(plan: Plan, scope: Scope): string {
  const count = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`;
  const parts = [
    `${count(plan.ticks, 'tick')} (${secondsOf(plan, scope)} s)`,
    plan.presses === 1 ? '1 press' : `${plan.presses} presses`,
    plan.sightings === Infinity ? 'by the moves of the ground' : `every row seen ${plan.sightings === 1 ? 'once' : `${plan.sightings} times`} or more`, // prettier-ignore
  ];
  if (plan.goal.startsWith('(')) parts.push(`lands at ${plan.goal}`);
  if (plan.startsPaused) parts.push(`begins inside the pause at @${plan.starts[0] ?? ''}`);
  return parts.join(', ');
}

function secondsOf({ ticks }: Plan, scope: Scope): string {
  return toDecimal(tickTime(ticks, scope.game.clock), 3);
}

function stoppedText({ query, findings, stopped, limit }: Shown): string {
  const why = stopped === 'interrupt' ? 'stopped by hand' : `stopped at the limit of ${limit}`;
  const { bound } = findings;
  const known =
    bound === undefined
      ? 'nothing is known of what is still to come'
      : query.by === 'sightings'
        ? `no plan still to come stands on rows all seen more than ${bound} times`
        : `no plan still to come takes fewer than ${bound} ${query.by}`;
  const isEmpty = findings.groups.every(({ plans }) => plans.length === 0);
  const best = isEmpty ? 'no plan yet' : 'the best so far';
  return `${why} after ${findings.explored} states: ${best}, and ${known}`;
}

/** The form of find.schema.json. */
export function findJson(shown: Shown): string {
  const { scope, query, findings, stopped } = shown;
  const { log } = knownOf(scope);
  const plans = findings.groups.flatMap((group) =>
    group.plans.map((plan) => ({
      sequence: plan.sequence,
      ticks: plan.ticks,
      presses: plan.presses,
      sightings: plan.sightings === Infinity ? null : plan.sightings,
      seconds: Number(secondsOf(plan, scope)),
      from: plan.starts.map((spot) => `@${spot}`),
      to: plan.goal.startsWith('(') ? plan.goal : `@${plan.goal}`,
      sure: plan.isSure,
      rescues: plan.rescues.map((rescue) => ({
        spot: `@${rescue.spot}`,
        sequence: rescue.sequence,
        to: `@${rescue.to}`,
      })),
    })),
  );
  const done = findings.exhausted && stopped === undefined;
  const result = {
    plans,
    exhausted: done,
    by: query.by,
    bound: done ? null : (findings.bound ?? null),
    explored: findings.explored,
    stopped: stopped ?? null,
    reasons: plans.length === 0 && stopped === undefined ? reasonsFor(scope, query, findings) : [],
    apart: findings.groups.length > 1 ? findings.groups.map(({ starts }) => starts.map((spot) => `@${log.name(spot)}`)) : [], // prettier-ignore
  };
  return `${JSON.stringify(result, null, 2)}\n`;
}
