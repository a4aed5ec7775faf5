import { type ModelProblem, collector } from '../model/problems.js';
import type { Scope } from '../model/scope.js';
import type { Step } from '../model/steps.js';
import { parse } from '../syntax/parse.js';
import { buildTimeline } from '../timeline/build.js';
import { analysePause } from '../timeline/pause-presses.js';
import { knownOf } from './context.js';
import { LONGEST_ROW, type Log } from './log.js';

/**
 * Why a text is no items for a row of the log. `rule` is a problem of the syntax or the model,
 * whose words are with the rule of that name; `not-items`: more, or less, than items;
 * `too-long`: over the most that a row may have; `pause`: presses of the pause input that cannot
 * work so close together.
 */
export type ItemsProblem =
  | { readonly why: 'rule'; readonly rule: string; readonly params: ProblemParams }
  | { readonly why: 'not-items' }
  | { readonly why: 'too-long'; readonly limit: number }
  | { readonly why: 'pause' };

type ProblemParams = Readonly<Record<string, string | number | boolean>>;

export interface RowText {
  /** Names without `@`. */
  readonly from: string;
  readonly items: string;
  readonly to: string;
}

/** The items of a row of the log as numbers to compare, or why they are none. */
export function readItems(
  written: RowText,
  scope: Scope,
): { readonly ids: readonly number[] } | ItemsProblem {
  const { log, resolver } = knownOf(scope);
  const head = `seen {\n@${written.from} : `;
  const body = `${head}${written.items}`;
  const { units } = parse(`${body} -> @${written.to}\n}\n`);
  const unit = units[0]?.unit;
  // A comment would hide the end of the row, whatever else is found then.
  if (unit === undefined || unit.comments.length > 0) return { why: 'not-items' };
  const problem = unit.problems.find(({ code }) => code !== 'more-problems');
  if (problem !== undefined) return { why: 'rule', rule: problem.code, params: problem.params };
  const rows = unit.declaration.kind === 'seen' ? unit.declaration.rows : [];
  const row = rows[0];
  // What is written in a cell could end the row and begin another.
  const whole =
    units.length === 1 &&
    rows.length === 1 &&
    row?.to?.start === `${body} -> `.length &&
    row.body.length > 0 &&
    row.body.every((item) => item.marks.length === 0);
  if (!whole) return { why: 'not-items' };
  const problems: ModelProblem[] = [];
  const options = { mayChoose: false };
  const { steps } = resolver.resolve(row.body, unit, collector(problems), options);
  const [first] = problems;
  if (first !== undefined) return { why: 'rule', rule: first.code, params: { ...first.params } };
  const ids = log.tokensOf(row, unit);
  if (ids.length > LONGEST_ROW) return { why: 'too-long', limit: LONGEST_ROW };
  const paused = isPaused(log, written.from);
  // Both brackets of a bare `[]` stay out of it between two spots inside a pause.
  const bare = paused && isPaused(log, written.to) && steps.length === 2;
  if (ids.length === 0 || (bare && steps[0]?.kind === 'open')) return { why: 'not-items' };
  if (!pauses(steps, paused, scope)) return { why: 'pause' };
  return { ids };
}

function isPaused(log: Log, name: string): boolean {
  const spot = log.find(name);
  return spot !== undefined && log.paused[spot] === true;
}

/** Whether every press of the pause input can do its work. */
function pauses(steps: readonly Step[], paused: boolean, { game }: Scope): boolean {
  const opened = paused && steps[0]?.kind === 'open';
  const sequence = { steps: opened ? steps.slice(1) : steps, first: undefined, last: undefined };
  const timeline = buildTimeline(sequence, game, { startPaused: opened });
  return 'tooLong' in timeline || analysePause(timeline).length === 0;
}
