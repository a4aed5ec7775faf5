import type { Held } from '../model/steps.js';
import type { Shape } from './neighbours.js';
import type { TimelineNode } from './nodes.js';
import type { SettlingEnd } from './settling.js';

/**
 * A body as it was built somewhere. Its ticks depend on nothing else than what is named here;
 * what cannot matter is 0, so that most bodies are the same everywhere.
 */
export interface Built {
  /** Held by the leaf in front where the body begins with `[`; -1 where a frame has begun. */
  readonly front: number;
  /** Held by what follows, where the body ends with `]`. */
  readonly joined: Held;
  /** Held on the tick that follows, where the body ends in a menu. */
  readonly first: Held;
  readonly masked: boolean;
  /** Neutral frames so far; they matter only to a body that asked for them. */
  readonly settled: number;

  /** Undefined where no tick passes. */
  readonly node: TimelineNode | undefined;
  readonly end: SettlingEnd;
}

/** Beyond this many, they are found by name and not by looking at each. */
const FEW = 6;

/** What is known of one sequence. */
export class Memo {
  private readonly few: Built[] = [];
  private many: Map<string, Built> | undefined;

  constructor(readonly shape: Shape | undefined) {}

  find(
    front: number,
    joined: Held,
    first: Held,
    masked: boolean,
    settled: number,
  ): Built | undefined {
    for (const built of this.few) {
      if (
        built.front === front &&
        built.joined === joined &&
        built.first === first &&
        built.masked === masked &&
        (!built.end.asked || built.settled === settled)
      ) {
        return built;
      }
    }
    if (this.many === undefined) return undefined;
    const name = nameOf(front, joined, first, masked);
    return this.many.get(name) ?? this.many.get(`${name} ${settled}`);
  }

  add(built: Built): void {
    if (this.few.length < FEW) {
      this.few.push(built);
      return;
    }
    const name = nameOf(built.front, built.joined, built.first, built.masked);
    this.many ??= new Map();
    this.many.set(built.end.asked ? `${name} ${built.settled}` : name, built);
  }
}

function nameOf(front: number, joined: Held, first: Held, masked: boolean): string {
  return `${front} ${joined} ${first} ${masked ? 1 : 0}`;
}
