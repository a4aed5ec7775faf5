import type { Held, Source } from '../model/steps.js';
import { LIMITS } from '../text/limits.js';
import type { Part } from './types.js';

/**
 * A timeline in memory: stretches of equal ticks, and blocks that repeat what is in them.
 * A block is shared wherever the same thing is said twice, so nodes form a graph whose size
 * goes with the text, not with the time.
 */
export type TimelineNode = RunNode | Block;

/** What a press of the pause input does. */
export type PauseEdge = 'pauses' | 'unpauses';

export interface RunNode {
  readonly kind: 'run';
  readonly ticks: number;
  /** As many as ticks, or none. */
  readonly frames: number;
  readonly held: Held;
  /** The pause input is held, to do this. Such a stretch is one tick. */
  readonly edge: PauseEdge | undefined;
  readonly part: Part;
  readonly source: Source | undefined;
}

/** `count` times the children in order, with the inputs of `mask` held throughout. */
export interface Block {
  readonly kind: 'block';
  readonly ticks: number;
  readonly frames: number;
  readonly children: readonly TimelineNode[];
  readonly count: number;
  readonly mask: Held;
  /** Ticks and frames of the children once. */
  readonly onceTicks: number;
  readonly onceFrames: number;
}

/** Thrown inside the build, and caught there, where a length leaves the exact numbers. */
export class LengthError extends Error {
  override readonly name = 'LengthError';
}

// Rounding keeps order, so a product or sum that is rounded and still within the limit is exact.
function exact(length: number): number {
  if (length > LIMITS.count) throw new LengthError('longer than numbers are exact');
  return length;
}

/** A block, or something simpler that means the same; undefined where no tick is left. */
export function block(
  children: readonly TimelineNode[],
  count: number,
  mask: Held,
): TimelineNode | undefined {
  if (children.length === 0 || count === 0) return undefined;
  const [only] = children;
  if (children.length === 1 && only !== undefined) {
    if (count === 1 && mask === 0) return only;
    if (only.kind === 'block') {
      return made(only.children, exact(only.count * count), only.mask | mask, only);
    }
    const held = mask === 0 ? only : { ...only, held: only.held | mask };
    return count === 1 ? held : made([held], count, 0);
  }
  return made(children, count, mask);
}

function made(
  children: readonly TimelineNode[],
  count: number,
  mask: Held,
  like?: Block,
): TimelineNode {
  let onceTicks = like?.onceTicks ?? 0;
  let onceFrames = like?.onceFrames ?? 0;
  if (like === undefined) {
    for (const child of children) {
      onceTicks = exact(onceTicks + child.ticks);
      onceFrames += child.frames;
    }
  }
  const ticks = exact(onceTicks * count);
  const frames = onceFrames * count;
  return { kind: 'block', ticks, frames, children, count, mask, onceTicks, onceFrames };
}

/** Where the children of a block begin, in ticks and frames from its own beginning. */
export interface Starts {
  readonly ticks: Float64Array;
  readonly frames: Float64Array;
}

const starts = new WeakMap<Block, Starts>();

/** Made when a block is first searched: reading from the front needs none. */
export function startsOf(node: Block): Starts {
  const known = starts.get(node);
  if (known !== undefined) return known;
  const { children } = node;
  const ticks = new Float64Array(children.length);
  const frames = new Float64Array(children.length);
  let tick = 0;
  let frame = 0;
  for (let i = 0; i < children.length; i++) {
    ticks[i] = tick;
    frames[i] = frame;
    tick += children[i]?.ticks ?? 0;
    frame += children[i]?.frames ?? 0;
  }
  const found = { ticks, frames };
  starts.set(node, found);
  return found;
}

/** The child that holds a tick of one pass: the last that begins at or before it. */
export function childAt({ ticks }: Starts, tick: number): number {
  let low = 0;
  let high = ticks.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >>> 1;
    if ((ticks[middle] ?? 0) <= tick) low = middle;
    else high = middle - 1;
  }
  return low;
}
