import type { Scope } from '../model/scope.js';
import { knownOf } from './context.js';
import { stepsFrom } from './distances.js';
import { type FindQuery, type Findings, sizeOf } from './find.js';
import { graphOf } from './graph.js';
import type { GroundEnd } from './groundsearch.js';
import { placeList, placeName } from './words.js';

/** Why there is no plan, in one sentence for each thing that is known. */
export function reasonsFor(scope: Scope, query: FindQuery, findings: Findings): string[] {
  const { log, grounds } = knownOf(scope);
  const { from, to } = query;
  const reasons: string[] = [];
  if (to.kind === 'spot') {
    if (from.length === 1 && from[0] === to.spot) return ['the character is there already'];
    const graph = graphOf(log);
    const before = new Set<number>();
    for (let spot = 0; spot < graph.spots; spot++) {
      for (let row = graph.head[spot] ?? 0; row < (graph.head[spot + 1] ?? 0); row++) {
        if (graph.to[row] === to.spot && spot !== to.spot) before.add(spot);
      }
    }
    const goal = placeName(log, to.spot);
    const isOnGround = grounds.ground(to.spot) !== undefined;
    if (before.size === 0 && !isOnGround) reasons.push(`no row of the log leads to ${goal}`);
    const stuck: number[] = [];
    let reached = 0;
    for (const start of from.slice(0, 100)) {
      const steps = stepsFrom(graph, start);
      if ((steps[to.spot] ?? -1) < 0) {
        stuck.push(start);
        reached = Math.max(
          reached,
          steps.reduce((sum, each) => sum + (each > 0 ? 1 : 0), 0),
        );
      }
    }
    if (stuck.length > 0 && before.size > 0) {
      const spots = reached === 1 ? 'one other spot' : `${reached} other spots`;
      reasons.push(
        reached === 0
          ? `no row leads on from ${placeList(log, stuck)}`
          : `from ${placeList(log, stuck)} rows lead to ${spots}, but to none of those next to ${goal}: ${placeList(log, [...before])}`,
      );
    } else if (stuck.length === 0 && from.length > 1) {
      reasons.push(
        'each start has a way of its own, but no items that lead from all of them, no repeat that brings them together, and no cues that tell them apart',
      );
    } else if (stuck.length === 0 && before.size > 0) {
      reasons.push('rows lead there, but none whose every landing can go on to the goal');
    }
  }
  if (findings.ground !== undefined) {
    const points = to.kind === 'window' ? sizeOf(to) : 1;
    const many =
      points > 1 ? `none of its ${points} points can be reached; as for the first, ` : '';
    reasons.push(many + groundReason(findings.ground));
  }
  if (findings.ground === undefined && to.kind === 'window' && reasons.length === 0) {
    const onGround = from.some((spot) => grounds.ground(spot) !== undefined);
    reasons.push(
      onGround
        ? 'no course over the ground that the log leaves open leads there'
        : `${placeList(log, from)} lie on no ground, and no row leads to one`,
    );
  }
  return reasons;
}

const AXES = ['x', 'y', 'z'];

/** The proof, so that it can be checked by hand. Coordinates count in the grounds' smallest unit. */
function groundReason(why: NonNullable<GroundEnd['why']>): string {
  switch (why.kind) {
    case 'lattice': {
      const sum = sumText(why.weights);
      return why.modulus === 0n
        ? `every move leaves ${sum} as it is, and the way there changes it by ${why.rest}`
        : `every move changes ${sum} by a multiple of ${why.modulus}, and the way there by ${why.rest} more than such a multiple`;
    }
    case 'direction':
      return `no move makes ${sumText(why.weights)} larger, and the way there does`;
    case 'exhausted':
      return `all ${why.looked === 1 ? 'counts' : `${why.looked} combinations`} of the moves that could still get there were looked at, and none does`;
    case 'bounds':
      return why.reached === 0
        ? 'it lies outside of the ground'
        : `all ${why.reached} points that moves reach inside the ground were looked at, and it is none of them`;
  }
}

function sumText(weights: readonly bigint[]): string {
  const terms = weights.flatMap((weight, axis) => {
    if (weight === 0n) return [];
    const size = weight < 0n ? -weight : weight;
    const name = AXES[axis] ?? `axis ${axis}`;
    return [{ sign: weight < 0n ? '-' : '+', text: size === 1n ? name : `${size} ${name}` }];
  });
  return terms
    .map(({ sign, text }, i) => (i > 0 ? ` ${sign} ${text}` : sign === '-' ? `-${text}` : text))
    .join('');
}
