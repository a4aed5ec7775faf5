import type { Scope } from '../model/scope.js';
import { framesOf } from '../model/count.js';
import { buildTimeline } from '../timeline/build.js';
import { isWaiting, saidBy, stepsOf } from './token-steps.js';
import type { Tokens } from './tokens.js';

/** What a stretch of items asks of the player, by itself. */
export interface Effort {
  /** Ticks of its nominal timeline. */
  readonly ticks: number;
  /** Ticks of what parts it from a stretch behind it; 0 where it ends inside a pause. */
  readonly gap: number;
  /** The same where a written `~` is what parts them. */
  readonly settleGap: number;
  /** Presses and held windows, a chord counting once, the pause button not at all. */
  readonly presses: number;
  /** Whether it begins or ends with a wait, which takes the place of the pace, even in a hold. */
  readonly waitsFirst: boolean;
  readonly waitsLast: boolean;
  /** Whether nothing is held in that wait, so that it is a gap. */
  readonly freeFirst: boolean;
  readonly freeLast: boolean;
  /** Whether it begins, or ends, inside a pause. */
  readonly fromPause: boolean;
  readonly intoPause: boolean;
}

/**
 * What stands between two stretches so that the first comes to rest: the pace of the game
 * where that is enough, else a written `~`, or `.1` in a game that has neither.
 */
export class Between {
  /** The token that the pace stands for, and whether it has to be written. */
  readonly id: number;
  readonly written: boolean;
  /** Whether a wait at the edge of a stretch makes a gap long enough by itself. */
  readonly anyGap: boolean;

  constructor(
    readonly tokens: Tokens,
    scope: Scope,
  ) {
    const { settle, pace, clock } = scope.game;
    const frames = pace?.kind === 'wait' ? framesOf(pace.count, clock).lo : 0;
    this.anyGap = settle === undefined;
    if (pace?.kind === 'settle') {
      this.id = tokens.settle;
      this.written = false;
    } else if (frames > 0 && frames >= (settle ?? 0)) {
      this.id = tokens.wait(frames);
      this.written = false;
    } else {
      this.id = settle === undefined ? tokens.wait(1) : tokens.settle;
      this.written = true;
    }
  }

  /** The tokens between two stretches. */
  ids(before: Effort, after: Effort): readonly number[] {
    if (before.intoPause) return [];
    if (!before.waitsLast && !after.waitsFirst) return [this.id];
    if (!this.anyGap) return [this.tokens.settle];
    return before.freeLast || after.freeFirst ? [] : [this.id];
  }
}

/** Efforts of stretches, each worked out once. */
export class Efforts {
  readonly between: Between;
  private readonly known = new Map<string, Effort>();

  constructor(
    private readonly tokens: Tokens,
    private readonly scope: Scope,
  ) {
    this.between = new Between(tokens, scope);
  }

  /** `fromPause`: the stretch begins behind an open bracket. */
  of(ids: readonly number[], fromPause: boolean): Effort {
    const key = `${fromPause ? '[' : ''}${ids.join(' ')}`;
    let effort = this.known.get(key);
    if (effort === undefined) {
      effort = this.measure(ids, fromPause);
      this.known.set(key, effort);
    }
    return effort;
  }

  /** Efforts by number of stretch, for loops over many rows. */
  byStretch(
    idsOf: (stretch: number) => readonly number[],
  ): (stretch: number, fromPause: boolean) => Effort {
    const known = new Map<number, Effort>();
    return (stretch, fromPause) => {
      const key = stretch * 2 + (fromPause ? 1 : 0);
      let effort = known.get(key);
      if (effort === undefined) {
        effort = this.of(idsOf(stretch), fromPause);
        known.set(key, effort);
      }
      return effort;
    };
  }

  /** Ticks of what stands between two stretches. */
  gapBetween(before: Effort, after: Effort): number {
    if (before.intoPause) return 0;
    if (!before.waitsLast && !after.waitsFirst) return before.gap;
    if (!this.between.anyGap) return before.settleGap;
    return before.freeLast || after.freeFirst ? 0 : before.gap;
  }

  /** Ticks of any tokens; Infinity beyond what is exact. */
  ticks(ids: readonly number[], startPaused = false): number {
    const timeline = buildTimeline(stepsOf(this.tokens, ids), this.scope.game, { startPaused });
    return 'tooLong' in timeline ? Infinity : timeline.ticks;
  }

  private measure(ids: readonly number[], fromPause: boolean): Effort {
    const { tokens } = this;
    const last = ids[ids.length - 1] ?? 0;
    const intoPause = tokens.paused[last] === true;
    const waits = (id: number | undefined): boolean => (tokens.neutral[id ?? 0] ?? -1) >= 0;
    const kind = (id: number): string => saidBy(tokens, id).kind;
    const ticks = this.ticks(ids, fromPause);
    const behind = (id: number): number =>
      intoPause ? 0 : this.ticks([...ids, id], fromPause) - ticks;
    return {
      ticks,
      gap: behind(this.between.id),
      settleGap: behind(tokens.settle),
      presses: pressesOf(tokens, ids),
      waitsFirst: isWaiting(
        tokens,
        ids.find((id) => kind(id) !== 'hold'),
      ),
      waitsLast: isWaiting(
        tokens,
        [...ids].reverse().find((id) => kind(id) !== 'end'),
      ),
      freeFirst: waits(ids[0]),
      freeLast: waits(last),
      fromPause,
      intoPause,
    };
  }
}

/** Presses of tokens: chords count once, each held part of a window, each hold around a group. */
export function pressesOf(tokens: Tokens, ids: readonly number[]): number {
  let presses = 0;
  for (const id of ids) {
    const said = saidBy(tokens, id);
    if (said.kind === 'press' || said.kind === 'hold') presses++;
    else if (said.kind === 'window') presses += said.parts.filter(({ held }) => held !== 0).length;
  }
  return presses;
}
