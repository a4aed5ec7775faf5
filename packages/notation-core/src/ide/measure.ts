import type { Game } from '../model/game.js';
import { Resolver } from '../model/resolve.js';
import type { SettleStep, Step, WaitStep } from '../model/steps.js';
import type { Item } from '../syntax/tree.js';
import { type Length, stepStarts } from '../timeline/build.js';
import type { TimelineOptions } from '../timeline/build.js';
import { type Body, choicesTo, type Level, type Point } from './items-at.js';

/** An item of a list with its place on the clock, counted from the beginning of the list. */
export interface Measured {
  readonly item: Item;
  /** What stands between it and the item in front: the pace, with the frames that it takes. */
  readonly gap: { readonly step: WaitStep | SettleStep; readonly frames: number } | undefined;
  readonly from: Length;
  readonly to: Length;
}

/**
 * The items of a list of steps, measured; undefined where it is longer than numbers are exact.
 * Joined items inside `[ ]` are one window and measured as its first item.
 */
export function measure(
  steps: readonly Step[],
  game: Game,
  options: TimelineOptions = {},
): readonly Measured[] | undefined {
  const starts = stepStarts({ steps, first: undefined, last: undefined }, game, options);
  if (starts === undefined) return undefined;
  const found: Measured[] = [];
  let gap: Measured['gap'];
  let pause: Item | undefined;
  steps.forEach((step, i) => {
    const from = starts[i];
    const to = starts[i + 1];
    if (step.kind === 'claim' || from === undefined || to === undefined) return;
    if ((step.kind === 'wait' || step.kind === 'settle') && !step.written) {
      gap = { step, frames: to.frames - from.frames };
      return;
    }
    if (step.kind === 'open') pause = step.source.item;
    const item = pause ?? step.source.item;
    if (step.kind === 'close') pause = undefined;
    const last = found[found.length - 1];
    if (last?.item === item) found[found.length - 1] = { ...last, to };
    else found.push({ item, gap, from, to });
    gap = undefined;
  });
  return found;
}

/** The steps of the items at each level around a place, by the ways that lead there. */
export function stepsAlong(
  { scope, unit }: Point,
  { items, mayChoose }: Body,
  levels: readonly Level[],
): readonly (readonly Step[])[] {
  const resolver = new Resolver(scope, choicesTo(levels));
  let steps: readonly Step[] | undefined = resolver.resolve(items, unit, undefined, {
    mayChoose,
  }).steps;
  const along: (readonly Step[])[] = [];
  for (const { item } of levels) {
    if (steps === undefined) break;
    along.push(steps);
    steps = item === undefined ? undefined : stepsInside(steps, item);
  }
  return along;
}

/** The steps inside of an item that holds others. */
export function stepsInside(steps: readonly Step[], item: Item): readonly Step[] | undefined {
  const at = steps.findIndex((step) => step.kind !== 'claim' && isOf(step, item));
  const step = steps[at];
  if (step?.kind === 'repeat') return stepsInside(step.body.steps, item);
  if (step?.kind === 'group' || step?.kind === 'hold') return step.body.steps;
  if (step?.kind !== 'open') return undefined;
  const end = steps.findIndex((each) => each.kind === 'close' && isOf(each, item));
  return steps.slice(at + 1, end < 0 ? steps.length : end);
}

function isOf(step: Exclude<Step, { kind: 'claim' }>, item: Item): boolean {
  const pace = (step.kind === 'wait' || step.kind === 'settle') && !step.written;
  return !pace && step.source.item === item;
}
