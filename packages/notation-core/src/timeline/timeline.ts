import type { Game } from '../model/game.js';
import { NodeCursor } from './cursor.js';
import { type TimelineNode, childAt, startsOf } from './nodes.js';
import type { Run, RunCursor, Timeline, Visitor } from './types.js';

/** A timeline over shared blocks; `buildTimeline` makes them. */
export class CompressedTimeline implements Timeline {
  readonly ticks: number;
  readonly frames: number;

  constructor(
    readonly game: Game,
    /** Undefined where no tick passes. */
    readonly root: TimelineNode | undefined,
    readonly startsPaused: boolean,
  ) {
    this.ticks = root?.ticks ?? 0;
    this.frames = root?.frames ?? 0;
  }

  at(tick: number): Run | undefined {
    if (!(tick >= 0 && tick < this.ticks) || this.root === undefined) return undefined;
    let node = this.root;
    let rest = Math.floor(tick);
    let first = 0;
    let frame = 0;
    let mask = 0;
    while (node.kind === 'block') {
      // The remainder is exact where a quotient of such numbers need not be.
      const inOne = rest % node.onceTicks;
      const passes = (rest - inOne) / node.onceTicks;
      const starts = startsOf(node);
      const at = childAt(starts, inOne);
      const start = starts.ticks[at] ?? 0;
      first += rest - inOne + start;
      frame += passes * node.onceFrames + (starts.frames[at] ?? 0);
      rest = inOne - start;
      mask |= node.mask;
      const child = node.children[at];
      if (child === undefined) return undefined;
      node = child;
    }
    const { ticks, held, edge, part, source } = node;
    const runs = node.frames > 0;
    return {
      tick: first,
      ticks,
      frame: runs ? frame : undefined,
      runs,
      held: held | mask,
      pause: edge !== undefined,
      part,
      source,
    };
  }

  cursor(from = 0, to = this.ticks): RunCursor {
    return new NodeCursor(this.root, this.inside(from), this.inside(to));
  }

  *runs(from = 0, to = this.ticks): IterableIterator<Run> {
    const cursor = this.cursor(from, to);
    while (cursor.next()) {
      const { tick, ticks, frame, held, pause, part, source } = cursor;
      const runs = frame >= 0;
      yield { tick, ticks, frame: runs ? frame : undefined, runs, held, pause, part, source };
    }
  }

  visit(from: number, to: number, visitor: Visitor): boolean {
    const cursor = this.cursor(from, to);
    while (cursor.next()) {
      const { tick, ticks, frame, held, pause, part, source } = cursor;
      if (!visitor(tick, ticks, frame, held, pause, part, source)) return false;
    }
    return true;
  }

  private inside(tick: number): number {
    if (tick > this.ticks) return this.ticks;
    return tick > 0 ? Math.floor(tick) : 0;
  }
}
