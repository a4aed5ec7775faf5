import type { PauseTiming } from '../model/game.js';
import type { PressStep, RepeatStep, Sequence, Step, WaitStep } from '../model/steps.js';
import { firstHeldOf } from './expand.js';
import { Memo } from './memo.js';
import { type After, CLOSE, NOTHING_AFTER, OPEN, type Shape, WAIT, WINDOW } from './neighbours.js';

/** Looks at the edges of sequences, once each. Undefined stands for no leaf at all. */
export class Shapes {
  private readonly memos = new Map<Sequence, Memo>();

  constructor(
    private readonly pause: PauseTiming,
    /** How often a repeat runs. */
    readonly count: (step: RepeatStep) => number,
  ) {}

  of(sequence: Sequence): Shape | undefined {
    const lone = loneLeaf(sequence);
    if (lone !== undefined) return this.step(lone);
    return this.memo(sequence).shape;
  }

  memo(sequence: Sequence): Memo {
    let memo = this.memos.get(sequence);
    if (memo === undefined) {
      memo = new Memo(this.look(sequence.steps));
      this.memos.set(sequence, memo);
    }
    return memo;
  }

  private look(steps: readonly Step[]): Shape | undefined {
    if (steps.length === 1) return this.at(steps, 0);
    let head: Shape | undefined;
    for (let i = 0; i < steps.length && head === undefined; i++) head = this.at(steps, i);
    if (head === undefined) return undefined;
    let tail: Shape | undefined;
    for (let i = steps.length - 1; tail === undefined; i--) tail = this.at(steps, i);
    return { head: head.head, tail: tail.tail, before: tail.before };
  }

  private at(steps: readonly Step[], i: number): Shape | undefined {
    const step = steps[i];
    return step === undefined ? undefined : this.step(step);
  }

  step(step: Step): Shape | undefined {
    switch (step.kind) {
      case 'press':
        return { head: 'press', tail: 'press', before: { held: step.held, closes: false } };
      case 'wait':
      case 'settle':
        return WAIT;
      case 'open':
        return OPEN;
      case 'window':
        return WINDOW;
      case 'close':
        return CLOSE;
      case 'claim':
        return undefined;
      case 'group':
        return this.of(step.body);
      case 'hold': {
        const body = this.of(step.body);
        // Nothing is joined to a wait: it stands beside a bracket in place of the pace.
        if (body === undefined || body.tail === 'wait') return body;
        const { held, closes } = body.before;
        return { ...body, before: { held: held | step.held, closes } };
      }
      case 'repeat': {
        const count = this.count(step);
        if (count === 0) return undefined;
        return this.of(step.body) ?? (count > 1 && step.between.length > 0 ? WAIT : undefined);
      }
    }
  }

  /** What follows: the steps from `i` on, then `end`. */
  after(steps: readonly Step[], i: number, end: After): After {
    for (let at = i; at < steps.length; at++) {
      const step = steps[at];
      const shape = step === undefined ? undefined : this.step(step);
      if (step === undefined || shape === undefined) continue;
      // Only `]` holds on its first tick what comes from further on.
      const rest = shape.head === 'close' ? this.after(steps, at + 1, end) : NOTHING_AFTER;
      return this.enter(step, rest);
    }
    return end;
  }

  private enter(step: Step, rest: After): After {
    switch (step.kind) {
      case 'press':
        return { joined: step.held, first: 0 };
      case 'window':
        return { joined: 0, first: firstHeldOf(step, this.pause) };
      case 'close':
        return { joined: 0, first: rest.joined };
      case 'group':
        return this.after(step.body.steps, 0, rest);
      case 'hold': {
        const { joined, first } = this.after(step.body.steps, 0, rest);
        if (this.of(step.body)?.head === 'wait') return NOTHING_AFTER;
        return { joined: joined | step.held, first: first | step.held };
      }
      case 'repeat':
        return this.after(step.body.steps, 0, this.count(step) > 1 ? this.again(step) : rest);
      default:
        return NOTHING_AFTER;
    }
  }

  /** What follows the body of a repeat that runs once more. */
  again({ body, between }: RepeatStep): After {
    return between.length > 0 ? NOTHING_AFTER : this.after(body.steps, 0, NOTHING_AFTER);
  }
}

/**
 * The only step of a body, where that is a press or a wait: `D*8` is what most repeats look
 * like, and looking such a body up costs more than making it.
 */
export function loneLeaf({ steps }: Sequence): PressStep | WaitStep | undefined {
  const step = steps.length === 1 ? steps[0] : undefined;
  return step?.kind === 'press' || step?.kind === 'wait' ? step : undefined;
}
