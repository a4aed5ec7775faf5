import { knownOf } from '../positions/context.js';
import type { Log, Outcome } from '../positions/log.js';
import type { Scope } from '../model/scope.js';

/** What the log says can be done at a spot: items as written, and where they led how often. */
export interface LoggedMove {
  readonly items: string;
  /** The most sighted first. */
  readonly landings: readonly { readonly to: string; readonly sightings: number }[];
  readonly sightings: number;
}

const byStart = new WeakMap<Log, ReadonlyMap<number, readonly number[]>>();

/** The rows of the log from a spot, the most sighted first. */
export function movesFrom(scope: Scope, spot: string): readonly LoggedMove[] {
  const { log } = knownOf(scope);
  const place = log.find(spot);
  if (place === undefined) return [];
  const moves = (startsOf(log).get(place) ?? []).map((entry) => {
    const outcomes = log.outcomes[log.entries.node[entry] ?? -1] ?? [];
    return moveOf(log, outcomes);
  });
  return moves.sort((a, b) => b.sightings - a.sightings);
}

/** The rows of the log that led to a spot, as start, items and sightings. */
export function movesTo(
  scope: Scope,
  spot: string,
): readonly { readonly from: string; readonly items: string; readonly sightings: number }[] {
  const { log } = knownOf(scope);
  const place = log.find(spot);
  const { from, node } = log.entries;
  const found: { from: string; items: string; sightings: number }[] = [];
  for (let i = 0; i < node.length && place !== undefined; i++) {
    const outcome = log.outcomes[node[i] ?? -1]?.find(({ to }) => to === place);
    if (outcome === undefined) continue;
    const items = itemsOf(outcome);
    found.push({ from: log.name(from[i] ?? -1), items, sightings: outcome.count });
  }
  return found.sort((a, b) => b.sightings - a.sightings);
}

/** The items of the row that says so, as they are written. */
export function itemsOf({ row, unit }: Pick<Outcome, 'row' | 'unit'>): string {
  const last = row.body[row.body.length - 1];
  return unit.text.slice(row.body[0]?.start, last?.end).replace(/\s+/g, ' ');
}

function moveOf(log: Log, outcomes: readonly Outcome[]): LoggedMove {
  const landings = outcomes
    .map(({ to, count }) => ({ to: log.name(to), sightings: count }))
    .sort((a, b) => b.sightings - a.sightings);
  const sightings = landings.reduce((sum, each) => sum + each.sightings, 0);
  const [first] = outcomes;
  return { items: first === undefined ? '' : itemsOf(first), landings, sightings };
}

function startsOf(log: Log): ReadonlyMap<number, readonly number[]> {
  let known = byStart.get(log);
  if (known === undefined) {
    const found = new Map<number, number[]>();
    log.entries.from.forEach((from, entry) => {
      const list = found.get(from);
      if (list === undefined) found.set(from, [entry]);
      else list.push(entry);
    });
    known = found;
    byStart.set(log, known);
  }
  return known;
}
