import type { Scope } from '../model/scope.js';
import type { Unit } from '../syntax/tree.js';
import type { Node } from './compile.js';
import { knownOf } from './context.js';
import { start } from './atoms.js';
import { Follower } from './follow.js';
import type { LongRow } from './log.js';
import { Places, UNKNOWN } from './places.js';
import { type PositionProblem, Problems } from './problems.js';
import { placeList, placeName } from './words.js';

/**
 * Rows that contradict each other: a row over several items against what its parts say one
 * after the other, and a row on open ground against what the ground's moves add up to.
 * Different landings of the very same items are no contradiction but spread.
 */
export function conflicts(scope: Scope, unit: Unit): readonly PositionProblem[] {
  const { log, grounds } = knownOf(scope);
  const problems = new Problems();
  for (const long of log.long) {
    if (long.unit === unit) check(long, scope, problems);
  }
  if (grounds.grounds.length === 0) return problems.found;
  for (const seen of scope.seen) {
    if (seen.unit !== unit) continue;
    for (const row of seen.declaration.rows) {
      const from = log.find(row.from.name);
      const to = row.to === undefined ? undefined : log.find(row.to.name);
      if (from === undefined || to === undefined || grounds.ground(from) === undefined) continue;
      if (grounds.coordinates(to) === undefined) continue;
      const ids = log.tokensOf(row, unit);
      const move = grounds.move(
        from,
        (ahead) => ids[ahead] ?? UNKNOWN,
        (each) => each.ids.length === ids.length,
      );
      if (move === undefined || move.off || move.place === to) continue;
      add(problems, { from, row, unit }, placeName(log, to), placeName(log, move.place), scope);
    }
  }
  return problems.found;
}

function check(long: LongRow, scope: Scope, problems: Problems): void {
  const { log, grounds } = knownOf(scope);
  const { from, ids, node } = long;
  const run: Node = { kind: 'run', ids: [...ids], steps: [], marks: [] };
  const places = new Places();
  places.add(from, start(from));
  const follower = new Follower(log, grounds, { without: node });
  const end = follower.follow([run], places);
  if (end.size === 0 || end.has(UNKNOWN)) return;
  const landings = (log.outcomes[node] ?? []).map((outcome) => outcome.to);
  // Neutral ticks alone keep a place: that is no row that contradicts.
  if (end.list.length === 1 && end.list[0] === from && !landings.includes(from)) {
    if (ids.every((id) => (log.tokens.neutral[id] ?? -1) >= 0)) return;
  }
  if (end.list.some((place) => landings.includes(place))) return;
  add(problems, long, placeList(log, landings), placeList(log, end.list), scope);
}

function add(
  problems: Problems,
  { from, row, unit }: Pick<LongRow, 'from' | 'row' | 'unit'>,
  says: string,
  parts: string,
  scope: Scope,
): void {
  const { log } = knownOf(scope);
  const first = row.body[0];
  const last = row.body[row.body.length - 1];
  problems.add('conflicting-log', { unit, start: row.start, end: row.end }, {
    from: placeName(log, from),
    items: unit.text.slice(first?.start, last?.end),
    says,
    parts,
  }); // prettier-ignore
}
