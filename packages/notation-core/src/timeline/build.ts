import type { Game, PauseTiming } from '../model/game.js';
import type { RepeatStep, Sequence, Step } from '../model/steps.js';
import { LIMITS } from '../text/limits.js';
import {
  UNDECLARED_PAUSE,
  putClose,
  putOpen,
  putPress,
  putSettle,
  putWait,
  putWindow,
} from './expand.js';
import { LengthError, type TimelineNode, block } from './nodes.js';
import { Settling, type SettlingEnd } from './settling.js';
import {
  type After,
  type Before,
  CLOSED_BEFORE,
  NOTHING_AFTER,
  NOTHING_BEFORE,
  Shapes,
} from './shape.js';
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

/** A body with everything around it that its ticks depend on. */
interface Built {
  readonly node: TimelineNode | undefined;
  readonly end: SettlingEnd;
}

interface Place {
  readonly before: Before;
  readonly after: After;
}

/** What is known of a body between two neighbours; by settled frames only where that matters. */
interface Memo {
  any: Built | undefined;
  readonly settled: Map<number, Built>;
}

class Builder {
  private readonly settle: number;
  private readonly pause: PauseTiming;
  private readonly shapes: Shapes;
  private readonly memos = new Map<Sequence, Map<string, Memo>>();
  private readonly gaps = new Map<RepeatStep, Sequence>();

  constructor(game: Game, options: TimelineOptions) {
    this.settle = game.settle ?? 0;
    this.pause = game.pause ?? UNDECLARED_PAUSE;
    this.shapes = new Shapes(this.pause, counter(options.repeatCount));
  }

  whole(sequence: Sequence): TimelineNode | undefined {
    const settling = new Settling(this.settle, this.settle, false);
    return this.body(sequence, { before: NOTHING_BEFORE, after: NOTHING_AFTER }, settling).node;
  }

  /**
   * A phrase may be used twice by a phrase that is used twice, and so on: each body is built
   * once for each set of circumstances that can change its ticks, which are few, since only
   * the leaf at an edge sees past it.
   */
  private body(sequence: Sequence, place: Place, settling: Settling): Built {
    let memos = this.memos.get(sequence);
    if (memos === undefined) this.memos.set(sequence, (memos = new Map<string, Memo>()));
    const { head, tail } = this.shapes.of(sequence) ?? {};
    const { before, after } = place;
    const front = head === 'open' ? before.held : head === 'press' && before.closes ? -1 : 0;
    const joined = tail === 'close' ? after.joined : 0;
    const first = tail === 'open' || tail === 'window' ? after.first : 0;
    const key = `${front} ${joined} ${first} ${settling.masked ? 'held' : ''}`;
    let memo = memos.get(key);
    if (memo === undefined) memos.set(key, (memo = { any: undefined, settled: new Map() }));
    const known = memo.any ?? memo.settled.get(settling.frames);
    if (known !== undefined) return known;

    const inner = new Settling(settling.settle, settling.frames, settling.masked);
    const children: TimelineNode[] = [];
    this.steps(sequence.steps, place, inner, children);
    const built = { node: block(children, 1, 0), end: inner.end() };
    if (built.end.asked) memo.settled.set(settling.frames, built);
    else memo.any = built;
    return built;
  }

  private steps(
    steps: readonly Step[],
    place: Place,
    settling: Settling,
    out: TimelineNode[],
  ): void {
    const { pause, shapes } = this;
    let { before } = place;
    for (let i = 0; i < steps.length; i++) {
      const step = steps[i];
      if (step === undefined) continue;
      switch (step.kind) {
        case 'press':
          putPress(out, step, before.closes && pause.resume === 0, settling);
          before = { held: step.held, closes: false };
          break;
        case 'wait':
          putWait(out, step, settling);
          before = NOTHING_BEFORE;
          break;
        case 'settle':
          putSettle(out, step, settling);
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
          const far = shape.tail === 'press' || shape.tail === 'wait';
          const after = far ? NOTHING_AFTER : shapes.after(steps, i + 1, place.after);
          if (step.kind === 'repeat') this.repeat(step, { before, after }, settling, out);
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
    const { node, end } = this.body(
      body,
      place,
      masked === settling.masked
        ? settling
        : new Settling(settling.settle, settling.frames, masked),
    );
    settling.past(end);
    const held = node === undefined ? undefined : block([node], 1, mask);
    if (held !== undefined) out.push(held);
  }

  /**
   * The first and the last time have neighbours of their own, and `~` may take longer the
   * first times. The times in between are all the same, mostly from the second on.
   */
  private repeat(step: RepeatStep, place: Place, settling: Settling, out: TimelineNode[]): void {
    const { body } = step;
    const count = this.shapes.count(step);
    const again = this.shapes.again(step);
    const inner = step.between.length > 0 ? undefined : this.shapes.of(body)?.before;
    const before = inner ?? NOTHING_BEFORE;
    const gap = this.gap(step);

    // What runs, and how many times in a row; a gap stands in front of all but the first.
    const rows: { gap: TimelineNode | undefined; node: TimelineNode | undefined; count: number }[] =
      [];
    const add = (between: TimelineNode | undefined, node: TimelineNode | undefined, n: number) => {
      const last = rows[rows.length - 1];
      if (last !== undefined && last.gap === between && last.node === node) last.count += n;
      else rows.push({ gap: between, node, count: n });
    };

    const first = this.body(
      body,
      { before: place.before, after: count > 1 ? again : place.after },
      settling,
    );
    settling.past(first.end);
    add(undefined, first.node, 1);
    for (let left = count - 1; left > 0;) {
      const entry = settling.frames;
      const between = this.body(gap, NOWHERE, settling);
      settling.past(between.end);
      const after = left > 1 ? again : place.after;
      const next = this.body(body, { before, after }, settling);
      settling.past(next.end);
      const asked = between.end.asked || (!between.end.fixed && next.end.asked);
      // Times that are all alike; the last one stands apart for what follows it.
      const alike = left > 1 && (!asked || settling.frames === entry) ? left - 1 : 1;
      add(between.node, next.node, alike);
      if (alike > 1 && !between.end.fixed && !next.end.fixed) {
        settling.past(between.end, alike - 1);
        settling.past(next.end, alike - 1);
      }
      left -= alike;
    }
    for (const row of rows) {
      const children = [row.gap, row.node].filter((node) => node !== undefined);
      const node = block(children, row.count, 0);
      if (node !== undefined) out.push(node);
    }
  }

  private gap(step: RepeatStep): Sequence {
    let gap = this.gaps.get(step);
    if (gap === undefined) {
      gap = { steps: step.between, first: undefined, last: undefined };
      this.gaps.set(step, gap);
    }
    return gap;
  }
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
