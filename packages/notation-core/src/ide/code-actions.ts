import type { Analysis } from './analysis.js';
import { putExtract } from './actions/extract.js';
import { putFixes } from './actions/fixes.js';
import { putInline } from './actions/inline.js';
import { putJoins } from './actions/join.js';
import { putMilliseconds } from './actions/milliseconds.js';
import { putFold, putUnfold } from './actions/repeat.js';
import { putRows } from './actions/rows.js';
import { selectedAt } from './actions/selected.js';
import { putSilences } from './actions/silence.js';
import type { ActionKind, CodeAction, Put } from './actions/types.js';
import { pointAt } from './items-at.js';

export type { ActionKind, CodeAction } from './actions/types.js';
export { type FixAll, fixAll } from './actions/fix-all.js';

const REFACTORINGS = [putExtract, putInline, putFold, putUnfold, putJoins, putMilliseconds];
const OF_FINDINGS = [putFixes, putRows, putSilences];

/**
 * Code actions of a stretch of one declaration: the fixes of what is found there, a silence with
 * a reason, the missing row of the log, and refactorings. A refactoring that says `safe` was
 * tried: it leaves the inputs of every tick, the claims and the comments as they are.
 */
export function codeActions(
  analysis: Analysis,
  path: string,
  from: number,
  to: number,
  kinds?: ReadonlySet<ActionKind>,
): readonly CodeAction[] {
  const point = pointAt(analysis, path, from);
  if (point === undefined) return [];
  const actions: CodeAction[] = [];
  const put: Put = (action) => {
    if (kinds !== undefined && !kinds.has(action.kind)) return;
    actions.push({ path, placeholder: undefined, finding: undefined, ...action });
  };
  const wants = (...some: readonly ActionKind[]): boolean =>
    kinds === undefined || some.some((kind) => kinds.has(kind));
  if (wants('fix', 'silence', 'row')) {
    const { start, unit } = point;
    const end = start + unit.text.length;
    const findings = analysis
      .findings(point.file)
      .filter(({ span }) => span.start <= to && span.end >= from)
      .filter(({ span }) => span.start >= start && span.start < Math.max(end, start + 1));
    for (const each of OF_FINDINGS) each(point, findings, put);
  }
  if (wants('extract', 'inline', 'rewrite')) {
    const selected = selectedAt(point, to - point.start);
    if (selected !== undefined) for (const each of REFACTORINGS) each(selected, put);
  }
  return actions;
}
