import type { Game } from '../../model/game.js';
import type { Sequence, Step } from '../../model/steps.js';
import { LIMITS } from '../../text/limits.js';
import { buildTimeline } from '../../timeline/build.js';

/** What is known of phrases: each is one object however often it is used. */
export type Lengths = Map<Sequence, number>;

/** Whether the ticks of a sequence are more than numbers are exact. */
export function isTooLong(sequence: Sequence, game: Game, lengths: Lengths): boolean {
  const { settle = 0, pause } = game;
  const around = pause === undefined ? 2 : pause.dwell + pause.resume + 2;
  // An estimate that is never too low first: hardly any sequence comes near the limit.
  if (estimate(sequence, settle, around, lengths) < LIMITS.count / 2) return false;
  return 'tooLong' in buildTimeline(sequence, game);
}

function estimate(sequence: Sequence, settle: number, around: number, lengths: Lengths): number {
  let ticks = 0;
  for (const step of sequence.steps) ticks += ofStep(step, settle, around, lengths);
  return ticks;
}

function ofStep(step: Step, settle: number, around: number, lengths: Lengths): number {
  switch (step.kind) {
    case 'press':
    case 'wait':
      return step.hi;
    case 'settle':
      return settle;
    case 'open':
    case 'close':
      return around;
    case 'window': {
      let ticks = around;
      for (const { hi } of step.parts) ticks += hi;
      return ticks;
    }
    case 'claim':
      return 0;
    case 'hold':
      return estimate(step.body, settle, around, lengths);
    case 'repeat': {
      let ticks = estimate(step.body, settle, around, lengths);
      for (const each of step.between) ticks += ofStep(each, settle, around, lengths);
      return step.hi * ticks;
    }
    case 'group': {
      if (step.of !== 'phrase') return estimate(step.body, settle, around, lengths);
      let known = lengths.get(step.body);
      if (known === undefined) {
        known = estimate(step.body, settle, around, lengths);
        lengths.set(step.body, known);
      }
      return known;
    }
  }
}
