import type { Game, PauseTiming } from '../model/game.js';
import type { RepeatStep, Sequence, Step } from '../model/steps.js';
import { LIMITS } from '../text/limits.js';
import {
  PaceRuns,
  UNDECLARED_PAUSE,
  putClose,
  putOpen,
  putPress,
  putSettle,
  putWait,
  putWindow,
} from './expand.js';
import { LengthError, type TimelineNode, block } from './nodes.js';
import type { Built } from './memo.js';
import { Settling } from './settling.js';
import {
  type After,
  type Before,
  CLOSED_BEFORE,
  NOTHING_AFTER,
  NOTHING_BEFORE,
  type Shape,
} from './neighbours.js';
import { Shapes, loneLeaf } from './shape.js';
import { CompressedTimeline } from './timeline.js';
import type { Timeline, TooLong } from './types.js';

export interface TimelineOptions {
  /**
   * How often a repeat runs, asked once a step: for `until`, whoever knows the log answers.
   * The fewest written where it is left out or answers undefined.
   */
  readonly repeatCount?: (step: RepeatStep) => number | undefined;
  /** The game is paused at tick 0: the sequence begins with a window or `]`, and has no `[`. */
  readonly startPaused?: boolean;
}

/**
 * The timeline of a sequence in its game, by section 4 of the notation. Ranges take their low
 * end. Costs what the text costs, whatever the counts in it; beyond 2^53 - 1 ticks it is
 * refused.
 */
export function buildTimeline(
  sequence: Sequence,
  game: Game,
  options: TimelineOptions = {},
): Timeline | TooLong {
  try {
    const root = new Builder(game, options).whole(sequence);
    return new CompressedTimeline(game, root, options.startPaused ?? false);
  } catch (error) {
    if (error instanceof LengthError) return { tooLong: true, limit: LIMITS.count };
    throw error;
  }
}

/** How far it is from the start of a sequence. */
export interface Length {
  readonly ticks: number;
  readonly frames: number;
}

/**
 * How far it is to the beginning of each step of a sequence, and as the last element to its
 * end; undefined where that is too long. By the same rules as `buildTimeline`, in one pass.
 */
export function stepStarts(
  { steps }: Sequence,
  game: Game,
  options: TimelineOptions = {},
): readonly Length[] | undefined {
  try {
    return new Builder(game, options).starts(steps);
  } catch (error) {
    if (error instanceof LengthError) return undefined;
    throw error;
  }
}

interface Place {
  readonly before: Before;
  readonly after: After;
}

type Body = Pick<Built, 'node' | 'end'>;

class Builder {
  private readonly settle: number;
  private readonly pause: PauseTiming;
  private readonly shapes: Shapes;
  private readonly paces = new PaceRuns();

  constructor(game: Game, options: TimelineOptions) {
    this.settle = game.settle ?? 0;
    this.pause = game.pause ?? UNDECLARED_PAUSE;
    this.shapes = new Shapes(this.pause, counter(options.repeatCount));
  }

  whole(sequence: Sequence): TimelineNode | undefined {
    // Where nothing was held yet there is nothing to wait for.
    return this.body(sequence, NOWHERE, this.settle, false).node;
  }

  starts(steps: readonly Step[]): readonly Length[] | undefined {
    const nodes: TimelineNode[] = [];
    const counts: number[] = [];
    const settling = new Settling(this.settle, this.settle, false);
    this.steps(steps, NOWHERE, settling, nodes, counts);
    counts.push(nodes.length);
    let ticks = 0;
    let frames = 0;
    let at = 0;
    const lengths = counts.map((count): Length => {
      for (; at < count; at++) {
        ticks += nodes[at]?.ticks ?? 0;
        frames += nodes[at]?.frames ?? 0;
      }
      return { ticks, frames };
    });
    return ticks > LIMITS.count ? undefined : lengths;
  }

  /**
   * A phrase may be used twice by a phrase that is used twice, and so on: each body is built
   * once for each set of circumstances that can change its ticks, which are few, since only
   * the leaf at an edge sees past it.
   */
  private body(sequence: Sequence, place: Place, settled: number, masked: boolean): Body {
    const lone = loneLeaf(sequence);
    if (lone !== undefined) {
      const settling = new Settling(this.settle, settled, masked);
      const out: TimelineNode[] = [];
      this.steps(sequence.steps, place, settling, out);
      return { node: out[0], end: settling.end() };
    }
    const memo = this.shapes.memo(sequence);
    const { before, after } = place;
    const head = memo.shape?.head;
    const tail = memo.shape?.tail;
    const front = head === 'open' ? before.held : head === 'press' && before.closes ? -1 : 0;
    const joined = tail === 'close' ? after.joined : 0;
    const first = tail === 'open' || tail === 'window' ? after.first : 0;
    const known = memo.find(front, joined, first, masked, settled);
    if (known !== undefined) return known;
    const settling = new Settling(this.settle, settled, masked);
    const children: TimelineNode[] = [];
    this.steps(sequence.steps, place, settling, children);
    const node = block(children, 1, 0);
    const built = { front, joined, first, masked, settled, node, end: settling.end() };
    memo.add(built);
    return built;
  }

  private steps(
    steps: readonly Step[],
    place: Place,
    settling: Settling,
    out: TimelineNode[],
    counts?: number[],
  ): void {
    const { pause, shapes } = this;
    let { before } = place;
    for (let i = 0; i < steps.length; i++) {
      const step = steps[i];
      if (step === undefined) continue;
      counts?.push(out.length);
      switch (step.kind) {
        case 'press':
          putPress(out, step, before.closes && pause.resume === 0, settling);
          before = { held: step.held, closes: false };
          break;
        case 'wait':
          putWait(out, step, this.paces, settling);
          before = NOTHING_BEFORE;
          break;
        case 'settle':
          putSettle(out, step, this.paces, settling);
          before = NOTHING_BEFORE;
          break;
        case 'open': {
          const { first } = shapes.after(steps, i + 1, place.after);
          putOpen(out, step, pause, before.held, first, settling);
          before = NOTHING_BEFORE;
          break;
        }
        case 'window':
          putWindow(out, step, pause, shapes.after(steps, i + 1, place.after).first, settling);
          before = NOTHING_BEFORE;
          break;
        case 'close': {
          const { joined } = shapes.after(steps, i + 1, place.after);
          putClose(out, step, pause, joined, settling);
          before = CLOSED_BEFORE;
          break;
        }
        case 'claim':
          break;
        case 'group':
        case 'hold':
        case 'repeat': {
          const shape = shapes.step(step);
          if (shape === undefined) continue;
          const after = seesNothing(shape)
            ? NOTHING_AFTER
            : shapes.after(steps, i + 1, place.after);
          if (step.kind === 'repeat') this.repeat(step, shape, { before, after }, settling, out);
          else {
            const mask = step.kind === 'hold' ? step.held : 0;
            this.inside(step.body, mask, { before, after }, settling, out);
          }
          ({ before } = shape);
          break;
        }
      }
    }
  }

  private inside(
    body: Sequence,
    mask: number,
    place: Place,
    settling: Settling,
    out: TimelineNode[],
  ): void {
    const masked = settling.masked || mask !== 0;
    const { node, end } = this.body(body, place, settling.frames, masked);
    settling.past(end);
    if (node === undefined) return;
    const held = block([node], 1, mask);
    if (held !== undefined) out.push(held);
  }

  /**
   * The first and the last time have neighbours of their own, and `~` may take longer the
   * first times. The times in between are all the same, mostly from the second on.
   */
  private repeat(
    step: RepeatStep,
    shape: Shape,
    place: Place,
    settling: Settling,
    out: TimelineNode[],
  ): void {
    const { body, between } = step;
    const { masked } = settling;
    const count = this.shapes.count(step);
    const alone = seesNothing(shape);
    const again = alone ? NOTHING_AFTER : this.shapes.again(step);
    const firstPlace = { before: place.before, after: count > 1 ? again : place.after };
    const first = this.body(body, firstPlace, settling.frames, masked);
    settling.past(first.end);
    let row: Row = { gap: [], node: first.node, count: 1 };
    const before = between.length > 0 ? NOTHING_BEFORE : shape.before;
    for (let left = count - 1; left > 0;) {
      const unit = new Settling(this.settle, settling.frames, masked);
      const gap: TimelineNode[] = [];
      this.steps(between, NOWHERE, unit, gap);
      const after = left > 1 ? again : place.after;
      const next = this.body(body, { before, after }, unit.frames, masked);
      unit.past(next.end);
      // Times that are all alike; the last one stands apart for what follows it.
      const steady = !unit.asked || unit.frames === settling.frames;
      const alike = steady ? Math.max(1, alone ? left : left - 1) : 1;
      settling.past(unit.end(), unit.fixed ? 1 : alike);
      if (row.node === next.node && sameRuns(row.gap, gap)) row.count += alike;
      else {
        putRow(out, row);
        row = { gap, node: next.node, count: alike };
      }
      left -= alike;
    }
    putRow(out, row);
  }
}

/** Whether the last leaf is the same whatever follows. */
function seesNothing({ tail }: Shape): boolean {
  return tail === 'press' || tail === 'wait';
}

/** A body that runs many times in a row, with a gap in front of each. */
interface Row {
  readonly gap: TimelineNode[];
  readonly node: TimelineNode | undefined;
  count: number;
}

/** The row ends here: its gap becomes what runs. */
function putRow(out: TimelineNode[], { gap, node, count }: Row): void {
  if (node !== undefined) gap.push(node);
  const whole = block(gap, count, 0);
  if (whole !== undefined) out.push(whole);
}

/** Whether two gaps of the same repeat came out the same: they differ in length alone. */
function sameRuns(a: readonly TimelineNode[], b: readonly TimelineNode[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i]?.ticks !== b[i]?.ticks) return false;
  return true;
}

const NOWHERE: Place = { before: NOTHING_BEFORE, after: NOTHING_AFTER };

function counter(ask: TimelineOptions['repeatCount']): (step: RepeatStep) => number {
  if (ask === undefined) return (step) => step.lo;
  const counts = new Map<RepeatStep, number>();
  return (step) => {
    let count = counts.get(step);
    if (count === undefined) {
      count = ask(step) ?? step.lo;
      if (!Number.isSafeInteger(count) || count < 0) {
        throw new RangeError(`a repeat runs a whole number of times, not ${count}`);
      }
      counts.set(step, count);
    }
    return count;
  };
}
