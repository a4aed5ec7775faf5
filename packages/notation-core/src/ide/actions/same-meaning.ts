import { Resolver } from '../../model/resolve.js';
import { collector, type ModelProblem } from '../../model/problems.js';
import { type Scope, scopeOf } from '../../model/scope.js';
import type { Sequence } from '../../model/steps.js';
import { reparse } from '../../syntax/parse.js';
import type { Unit } from '../../syntax/tree.js';
import type { TextEdit } from '../../text/edit.js';
import { buildTimeline } from '../../timeline/build.js';
import type { RunCursor } from '../../timeline/types.js';
import { unitAt } from '../analysis.js';
import { bodyAt, choicesTo, type Level, type Point } from '../items-at.js';

/** Stretches that are compared one by one. */
const MOST = 100_000;

/**
 * Whether a sequence means the same after edits to its file: the same inputs on every tick, the
 * same claims, and no problem more. Without `sameInput` only the problems are asked for.
 */
export function keepsMeaning(
  point: Point,
  levels: readonly Level[],
  edits: readonly TextEdit[],
  sameInput = true,
): boolean {
  const { analysis, file, scope, unit, start, at } = point;
  let { tree } = file;
  const backwards = [...edits].sort((a, b) => b.span.start - a.span.start);
  for (const edit of backwards) tree = reparse(tree, edit);
  const { path, uses, problems } = file;
  const changed = { path, tree, uses, problems };
  const { entries, unreadable } = analysis.program;
  const files = new Map(analysis.program.files).set(path, changed);
  const after = scopeOf({ files, entries, unreadable }, changed);
  const from = start + unit.declaration.start;
  const moved = from + shiftOf(edits, from);
  const placed = unitAt(changed, moved);
  if (placed === undefined) return false;
  const oldBody = bodyAt(unit.declaration, at);
  const newBody = bodyAt(placed.unit.declaration, start + at + shiftOf(edits, start + at, true) - placed.start); // prettier-ignore
  if (oldBody === undefined || newBody === undefined) return false;
  const { mayChoose } = oldBody;
  const choices = choicesTo(levels);
  const meaning = (of: Scope, where: Unit, items: typeof oldBody.items) => {
    const met: ModelProblem[] = [];
    const sequence = new Resolver(of, choices).resolve(items, where, collector(met), { mayChoose }); // prettier-ignore
    return { sequence, problems: met.length + where.problems.length };
  };
  const before = meaning(scope, unit, oldBody.items);
  const now = meaning(after, placed.unit, newBody.items);
  if (now.problems > before.problems) return false;
  for (const [name, { declaration, unit: where }] of after.phrases) {
    if (scope.phrases.has(name)) continue;
    // What is allowed where a phrase is used can be none where it stands alone.
    if (meaning(after, where, declaration.body).problems > 0) return false;
  }
  if (!sameInput) return true;
  return (
    claimsOf(before.sequence) === claimsOf(now.sequence) &&
    sameTicks(before.sequence, now.sequence, scope, after)
  );
}

/** How far the edits in front of a place move it; an edit over the place leaves it at its start. */
function shiftOf(edits: readonly TextEdit[], at: number, over = false): number {
  let shift = 0;
  for (const { span, text } of edits) {
    if (span.end <= at) shift += text.length - (span.end - span.start);
    else if (over && span.start < at) shift += span.start - at;
  }
  return shift;
}

function sameTicks(a: Sequence, b: Sequence, before: Scope, after: Scope): boolean {
  const [x, y] = [buildTimeline(a, before.game), buildTimeline(b, after.game)];
  if ('tooLong' in x || 'tooLong' in y) return 'tooLong' in x && 'tooLong' in y;
  if (x.ticks !== y.ticks || x.frames !== y.frames) return false;
  return sameRuns(x.cursor(), y.cursor());
}

/** Whether two timelines hold the same on every tick, wherever their stretches are cut. */
function sameRuns(a: RunCursor, b: RunCursor): boolean {
  let [left, right] = [0, 0];
  for (let i = 0; i < MOST; i++) {
    if (left === 0) left = a.next() ? a.ticks : -1;
    if (right === 0) right = b.next() ? b.ticks : -1;
    if (left < 0 || right < 0) return left === right;
    const alike = a.held === b.held && a.pause === b.pause && a.frame < 0 === b.frame < 0;
    if (!alike) return false;
    const both = Math.min(left, right);
    left -= both;
    right -= both;
  }
  return true;
}

/** The claims in the order of the text, those of shared phrases once. */
function claimsOf(sequence: Sequence): string {
  const names: string[] = [];
  const seen = new Set<Sequence>();
  const visit = ({ steps }: Sequence): void => {
    for (const step of steps) {
      if (step.kind === 'claim') names.push(step.spot);
      else if ('body' in step && !seen.has(step.body)) {
        seen.add(step.body);
        visit(step.body);
      }
    }
  };
  visit(sequence);
  return names.join(' ');
}
