import type { Game } from '../../model/game.js';
import type { Sequence, Step } from '../../model/steps.js';
import { LIMITS } from '../../text/limits.js';
import { buildTimeline } from '../../timeline/build.js';

const lengths = new WeakMap<Sequence, number>();

/** Whether the ticks of a sequence are more than numbers are exact. */
export function isTooLong(sequence: Sequence, game: Game): boolean {
  const { settle = 0, pause } = game;
  const around = pause === undefined ? 2 : pause.dwell + pause.resume + 2;
  // An estimate that is never too low first: hardly any sequence comes near the limit.
  if (estimate(sequence, settle, around) < LIMITS.count / 2) return false;
  return 'tooLong' in buildTimeline(sequence, game);
}

function estimate(sequence: Sequence, settle: number, around: number): number {
  let ticks = 0;
  for (const step of sequence.steps) ticks += ofStep(step, settle, around);
  return ticks;
}

function ofStep(step: Step, settle: number, around: number): number {
  switch (step.kind) {
    case 'press':
    case 'wait':
      return step.hi;
    case 'settle':
      return settle;
    case 'open':
    case 'close':
      return around;
    case 'window':
      return around + step.parts.reduce((sum, { hi }) => sum + hi, 0);
    case 'claim':
      return 0;
    case 'hold':
      return estimate(step.body, settle, around);
    case 'repeat': {
      const gap = step.between.reduce((sum, each) => sum + ofStep(each, settle, around), 0);
      return step.hi * (estimate(step.body, settle, around) + gap);
    }
    case 'group': {
      if (step.of !== 'phrase') return estimate(step.body, settle, around);
      // A phrase is one object however often it is used, and so is what is known of it.
      let known = lengths.get(step.body);
      if (known === undefined) {
        known = estimate(step.body, settle, around);
        lengths.set(step.body, known);
      }
      return known;
    }
  }
}
