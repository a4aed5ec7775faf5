import { parse } from '../syntax/parse.js';
import { applyEdits, editsOverlap, type TextEdit } from '../text/edit.js';
import type { Finding, Fix, FixSafety } from '../text/finding.js';

/** How far fix-all goes: only fixes that leave the input the same, or those too that change timing. */
export type FixLevel = 'safe' | 'changes-timing';

export interface Fixed {
  readonly text: string;
  /** How many findings were mended. */
  readonly applied: number;
  /** What the last text still has. */
  readonly left: readonly Finding[];
}

/** One fix can be the way to the next; more rounds than this only two rules at odds could need. */
const ROUNDS = 10;

/**
 * Mends a text as far as fixes of the level go: applies those that do not touch one another,
 * checks again, and goes on until nothing is left to mend. `check` gives the findings of a text.
 * A fix that would take a comment away is left to the player.
 */
export function applyFixes(
  text: string,
  check: (text: string) => readonly Finding[],
  level: FixLevel,
): Fixed {
  let now = text;
  let left = check(now);
  let applied = 0;
  for (let round = 0; round < ROUNDS; round++) {
    const { edits, count } = chosenEdits(now, left, level);
    if (count === 0) break;
    now = applyEdits(now, edits);
    applied += count;
    left = check(now);
  }
  return { text: now, applied, left };
}

/** The edits of the fixes that can be applied together, the first findings first. */
export function chosenEdits(
  text: string,
  findings: readonly Finding[],
  level: FixLevel,
): { readonly edits: readonly TextEdit[]; readonly count: number } {
  const edits: TextEdit[] = [];
  let comments: Comments | undefined;
  let count = 0;
  for (const { fixes } of findings) {
    const fix = fixes.find(({ safety }) => isWithin(safety, level));
    if (fix === undefined) continue;
    // Findings come by place, so only the last few edits can touch the new ones.
    if (editsOverlap(edits.slice(-8), fix.edits) || isBehind(edits, fix)) continue;
    comments ??= commentsOf(text);
    if (losesComment(fix, comments)) continue;
    edits.push(...fix.edits);
    count++;
  }
  return { edits, count };
}

function isWithin(safety: FixSafety, level: FixLevel): boolean {
  return safety === 'safe' || (level === 'changes-timing' && safety === level);
}

/** Whether a fix reaches in front of the last edit: the next round takes it. */
function isBehind(edits: readonly TextEdit[], fix: Fix): boolean {
  const last = edits[edits.length - 1];
  return last !== undefined && fix.edits.some(({ span }) => span.start < last.span.end);
}

type Comments = readonly { readonly start: number; readonly end: number }[];

function commentsOf(text: string): Comments {
  return parse(text).units.flatMap(({ start, unit }) =>
    unit.comments.map((comment) => ({ start: start + comment.start, end: start + comment.end })),
  );
}

/** Whether a fix takes a part of a comment away. */
export function losesComment(fix: Fix, comments: Comments): boolean {
  return fix.edits.some(({ span }) => {
    let low = 0;
    let high = comments.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((comments[middle]?.end ?? 0) <= span.start) low = middle + 1;
      else high = middle;
    }
    const comment = comments[low];
    if (comment === undefined) return false;
    return comment.start < span.end;
  });
}
