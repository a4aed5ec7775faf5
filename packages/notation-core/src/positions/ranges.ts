import type { Scope } from '../model/scope.js';
import type { RepeatStep, Sequence, TimedStep, WindowPart } from '../model/steps.js';
import type { Unit } from '../syntax/tree.js';
import { compile, type Node } from './compile.js';
import { knownOf } from './context.js';
import { Follower } from './follow.js';
import type { Places } from './places.js';
import type { Problems } from './problems.js';
import { placeList } from './words.js';

/** Values of a range that are tried one by one; of a longer one, its ends and what lies next to them. */
const TRIED = 64;
/** Items followed for the ranges of one route; past them, ranges further on are not tried. */
const WORK = 20_000_000;

/** What a claim, or the end, finds. */
interface Look {
  readonly places: string;
  readonly words: string;
}

type Ranged = RepeatStep | WindowPart | (TimedStep & { kind: 'press' | 'wait' });

/**
 * Proves that every count of each written range lands alike, one range at a time with the
 * others at their low end, or says which count differs.
 */
export function rangeProblems(
  sequence: Sequence,
  starts: Places,
  unit: Unit,
  scope: Scope,
  problems: Problems,
): void {
  const ranges = rangesOf(sequence);
  if (ranges.length === 0) return;
  const { log, grounds } = knownOf(scope);
  const written = sizeOf(compile(sequence, log.tokens));
  let work = 0;
  const landing = (range: Ranged, count: number): Look[] => {
    const nodes = compile(sequence, log.tokens, { overrides: new Map([[range, count]]) });
    // What each claim finds, and the end: claims put the character where they say, so a
    // difference must be looked for in front of them. A claim in a repeat is met often.
    const found = new Map<unknown, Set<number>>();
    const watch = {
      claim(claim: unknown, places: Places): void {
        let set = found.get(claim);
        if (set === undefined) found.set(claim, (set = new Set()));
        for (const place of places.list) set.add(place);
      },
    };
    const end = new Follower(log, grounds, { watch, likely: true }).follow(nodes, starts);
    return [...found.values(), end.list].map((places) => ({
      places: [...places].sort((a, b) => a - b).join(' '),
      words: placeList(log, [...places], 12),
    }));
  };
  for (const range of ranges) {
    if (range.source.unit !== unit) continue;
    const { item } = range.source;
    const first = landing(range, range.lo);
    work += written;
    for (const count of tried(range.lo, range.hi)) {
      if ((work += written) > WORK) return;
      const other = landing(range, count);
      const at = first.findIndex((look, i) => look.places !== other[i]?.places);
      if (at < 0) continue;
      problems.add('range-differs', { unit, start: item.start, end: item.end }, {
        written: unit.text.slice(item.start, item.end),
        first: String(range.lo),
        firstSpots: first[at]?.words ?? '',
        other: String(count),
        otherSpots: other[at]?.words ?? '',
      }); // prettier-ignore
      break;
    }
  }
}

/** Tokens that are followed one by one; repeats cost their bodies a few times. */
function sizeOf(nodes: readonly Node[]): number {
  return nodes.reduce((sum, node) => sum + (node.kind === 'run' ? node.ids.length : 64), 0);
}

function tried(lo: number, hi: number): number[] {
  if (hi - lo <= TRIED) return Array.from({ length: hi - lo }, (_, i) => lo + 1 + i);
  return [lo + 1, lo + 2, Math.floor((lo + hi) / 2), hi - 1, hi];
}

function rangesOf(sequence: Sequence): Ranged[] {
  const found: Ranged[] = [];
  const seen = new Set<Sequence>();
  const stack = [sequence];
  for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
    if (seen.has(next)) continue;
    seen.add(next);
    for (const step of next.steps) {
      if (step.kind === 'window') {
        for (const part of step.parts) if (part.hi > part.lo) found.push(part);
      } else if (step.kind === 'press' || step.kind === 'wait') {
        if (step.hi > step.lo) found.push(step);
      } else if (step.kind === 'repeat' || step.kind === 'group' || step.kind === 'hold') {
        if (step.kind === 'repeat' && step.hi > step.lo) found.push(step);
        stack.push(step.body);
      }
    }
  }
  return found;
}
