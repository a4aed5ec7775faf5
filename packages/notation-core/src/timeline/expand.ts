import type { PauseTiming } from '../model/game.js';
import type {
  CloseStep,
  Held,
  OpenStep,
  PressStep,
  SettleStep,
  Source,
  WaitStep,
  WindowStep,
} from '../model/steps.js';
import type { PauseEdge, RunNode, TimelineNode } from './nodes.js';
import type { Settling } from './settling.js';
import type { Part } from './types.js';

/** The ticks of single steps, as section 4 of the notation counts them. */

/** The pause of a game that declares none: findings say so, and the rest still gets ticks. */
export const UNDECLARED_PAUSE: PauseTiming = { letter: 'P', open: 0, dwell: 1, resume: 1 };

type Out = TimelineNode[];

function put(
  out: Out,
  ticks: number,
  runs: boolean,
  held: Held,
  edge: PauseEdge | undefined,
  part: Part,
  source: Source | undefined,
): void {
  if (ticks <= 0) return;
  out.push({ kind: 'run', ticks, frames: runs ? ticks : 0, held, edge, part, source });
}

/** `begun`: the first frame ran on the tick that unpaused (`resume 0`). */
export function putPress(out: Out, step: PressStep, begun: boolean, settling: Settling): void {
  const ticks = begun ? step.lo - 1 : step.lo;
  put(out, ticks, true, step.held, undefined, 'press', step.source);
  settling.run(step.held, ticks);
}

export function putWait(out: Out, step: WaitStep, paces: PaceRuns, settling: Settling): void {
  putNeutral(out, step, step.lo, paces);
  settling.run(0, step.lo);
}

export function putSettle(out: Out, step: SettleStep, paces: PaceRuns, settling: Settling): void {
  putNeutral(out, step, settling.top(), paces);
}

function putNeutral(out: Out, step: WaitStep | SettleStep, ticks: number, paces: PaceRuns): void {
  if (step.written) put(out, ticks, true, 0, undefined, 'wait', step.source);
  else if (ticks > 0) out.push(paces.of(ticks));
}

/** The pace between items is the same stretch all over a text: one that was just used is used again. */
export class PaceRuns {
  private last: RunNode | undefined;

  of(ticks: number): RunNode {
    if (this.last?.ticks === ticks) return this.last;
    return (this.last = {
      kind: 'run',
      ticks,
      frames: ticks,
      held: 0,
      edge: undefined,
      part: 'pace',
      source: undefined,
    });
  }
}

/** `before`: held by what is joined before; `next`: held on the tick after the menu. */
export function putOpen(
  out: Out,
  step: OpenStep,
  pause: PauseTiming,
  before: Held,
  next: Held,
  settling: Settling,
): void {
  put(out, 1, false, before, 'pauses', 'open', step.source);
  put(out, pause.dwell, false, before & next, undefined, 'open', step.source);
  settling.ticks(before);
}

export function putWindow(
  out: Out,
  step: WindowStep,
  pause: PauseTiming,
  next: Held,
  settling: Settling,
): void {
  const { parts } = step;
  const first = parts[0];
  const last = parts[parts.length - 1];
  if (first === undefined || last === undefined) return;
  const { resume } = pause;
  if (resume > 0) {
    put(out, 1, false, first.held, 'unpauses', 'window', first.source);
    put(out, resume - 1, false, first.held, undefined, 'window', first.source);
    settling.ticks(first.held);
  }
  let unpaused = resume > 0;
  for (const { held, lo, source } of parts) {
    if (lo === 0) continue;
    if (!unpaused) put(out, 1, true, held, 'unpauses', 'window', source);
    put(out, unpaused ? lo : lo - 1, true, held, undefined, 'window', source);
    unpaused = true;
    settling.run(held, lo);
  }
  put(out, 1, false, last.held, 'pauses', 'window', last.source);
  put(out, pause.dwell, false, last.held & next, undefined, 'window', last.source);
  settling.ticks(last.held);
}

/** What a window holds on its first tick. */
export function firstHeldOf({ parts }: WindowStep, { resume }: PauseTiming): Held {
  // With `resume 0` that tick is the first of its frames, and a part without frames has none.
  const part = resume > 0 ? parts[0] : parts.find(({ lo }) => lo > 0);
  return (part ?? parts[parts.length - 1])?.held ?? 0;
}

/** `joined`: held by what is joined after. */
export function putClose(
  out: Out,
  step: CloseStep,
  pause: PauseTiming,
  joined: Held,
  settling: Settling,
): void {
  const { resume } = pause;
  put(out, 1, resume === 0, joined, 'unpauses', 'close', step.source);
  put(out, resume - 1, false, joined, undefined, 'close', step.source);
  if (resume === 0) settling.run(joined, 1);
  else settling.ticks(joined);
}
