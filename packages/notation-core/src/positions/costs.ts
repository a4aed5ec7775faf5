import type { Scope } from '../model/scope.js';
import type { Step } from '../model/steps.js';
import { parse } from '../syntax/parse.js';
import { buildTimeline } from '../timeline/build.js';
import { compile, lengthOf } from './compile.js';
import { knownOf } from './context.js';
import { writeOut } from './log.js';
import type { MenuMove } from './menu.js';

/** A move of the menu with its tokens and its lengths. */
export interface Costed {
  readonly move: MenuMove;
  readonly ids: readonly number[];
  /** From the spot to the end of the move. */
  readonly ticks: number;
  /** The same where it lands inside the pause, whose last bracket stays open then. */
  readonly ticksOpen: number;
  /** What parts it from the item that follows. */
  readonly gap: number;
}

/** Gives a move its meaning in a scope; `paused` moves begin inside a pause. */
export function costed(move: MenuMove, scope: Scope, paused: boolean): Costed {
  const { log, resolver } = knownOf(scope);
  const measure = (steps: readonly Step[]): number => {
    const sequence = { steps, first: undefined, last: undefined };
    const timeline = buildTimeline(sequence, scope.game, { startPaused: paused });
    return 'tooLong' in timeline ? Infinity : timeline.ticks;
  };
  const resolved = (items: string): readonly Step[] => {
    const unit = parse(`let move = ${items}\n`).units[0]?.unit;
    const body = unit?.declaration.kind === 'let' ? unit.declaration.body : [];
    const { steps } = unit === undefined ? { steps: [] } : resolver.resolve(body, unit);
    return paused ? steps.slice(1) : steps;
  };
  const steps = resolved(move.items);
  const nodes = compile({ steps, first: undefined, last: undefined }, log.tokens);
  const ids = lengthOf(nodes) > 0 ? writeOut(nodes, []) : [];
  const ticks = measure(steps);
  const closes = steps.at(-1)?.kind === 'close';
  // A press behind the move shows what the pace puts between the two.
  const next = scope.game.inputs[0]?.letter;
  return {
    move,
    ids,
    ticks,
    ticksOpen: closes ? measure(steps.slice(0, -1)) : ticks,
    gap: next === undefined ? 0 : measure(resolved(`${move.items} ${next}`)) - 1 - ticks,
  };
}
