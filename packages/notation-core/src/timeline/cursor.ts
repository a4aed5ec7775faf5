import type { Held, Source } from '../model/steps.js';
import { type Block, type TimelineNode, childAt, startsOf } from './nodes.js';
import type { Part, RunCursor } from './types.js';

/** A block that is being read: where in its children, and how many passes are still to come. */
interface Level {
  children: readonly TimelineNode[];
  next: number;
  left: number;
  mask: Held;
}

/**
 * Walks the stretches of [from, to) with a stack of its own: memory goes with the nesting,
 * and a step costs a few dozen instructions, since this is what long tables are made from.
 */
export class NodeCursor implements RunCursor {
  tick = 0;
  ticks = 0;
  frame = -1;
  held: Held = 0;
  pause = false;
  part: Part = 'wait';
  source: Source | undefined = undefined;

  /** Where the next stretch begins, in ticks and frames. */
  private tickAhead = 0;
  private frameAhead = 0;
  /** Ticks of the first stretch that lie in front of the window. */
  private cut = 0;
  private readonly outer: Level[] = [];
  private depth = 0;
  // The level that is being read, apart from the others for speed.
  private children: readonly TimelineNode[];
  private at = 0;
  private left = 0;
  private mask: Held = 0;

  /** `from` and `to` are whole and inside the timeline. */
  constructor(
    root: TimelineNode | undefined,
    from: number,
    private readonly to: number,
  ) {
    this.children = root === undefined || from >= to ? [] : [root];
    if (root !== undefined && from > 0 && from < to) this.seek(root, from);
  }

  next(): boolean {
    if (this.tickAhead >= this.to) return false;
    for (;;) {
      const node = this.children[this.at];
      if (node === undefined) {
        if (!this.leave()) return false;
        continue;
      }
      this.at++;
      if (node.kind === 'block') {
        this.enter(node);
        continue;
      }
      const { cut, tickAhead } = this;
      let ticks = node.ticks;
      if (cut > 0) {
        ticks -= cut;
        this.cut = 0;
      }
      if (ticks > this.to - tickAhead) ticks = this.to - tickAhead;
      this.tick = tickAhead;
      this.ticks = ticks;
      this.tickAhead = tickAhead + ticks;
      if (node.frames > 0) {
        this.frame = this.frameAhead;
        this.frameAhead += ticks;
      } else this.frame = -1;
      this.held = node.held | this.mask;
      this.pause = node.edge !== undefined;
      this.part = node.part;
      this.source = node.source;
      return true;
    }
  }

  private enter({ children, count, mask }: Block): void {
    const level = this.outer[this.depth];
    if (level === undefined) {
      this.outer.push({ children: this.children, next: this.at, left: this.left, mask: this.mask });
    } else {
      level.children = this.children;
      level.next = this.at;
      level.left = this.left;
      level.mask = this.mask;
    }
    this.depth++;
    this.children = children;
    this.at = 0;
    this.left = count - 1;
    this.mask |= mask;
  }

  /** Begins the next pass of the block, or goes back to the one around it. */
  private leave(): boolean {
    if (this.left > 0) {
      this.left--;
      this.at = 0;
      return true;
    }
    if (this.depth === 0) return false;
    this.depth--;
    const level = this.outer[this.depth];
    if (level === undefined) return false;
    this.children = level.children;
    this.at = level.next;
    this.left = level.left;
    this.mask = level.mask;
    return true;
  }

  private seek(root: TimelineNode, from: number): void {
    let node = root;
    let rest = from;
    let frame = 0;
    while (node.kind === 'block') {
      this.at++;
      this.enter(node);
      // The remainder is exact where a quotient of such numbers need not be.
      const inOne = rest % node.onceTicks;
      const passes = (rest - inOne) / node.onceTicks;
      this.left -= passes;
      const starts = startsOf(node);
      this.at = childAt(starts, inOne);
      frame += passes * node.onceFrames + (starts.frames[this.at] ?? 0);
      rest = inOne - (starts.ticks[this.at] ?? 0);
      const child = node.children[this.at];
      if (child === undefined) return;
      node = child;
    }
    this.tickAhead = from;
    this.cut = rest;
    this.frameAhead = frame + (node.frames > 0 ? rest : 0);
  }
}
