import type { PauseTiming } from '../model/game.js';
import type { Source } from '../model/steps.js';
import { UNDECLARED_PAUSE } from './expand.js';
import type { Block, RunNode, TimelineNode } from './nodes.js';
import { CompressedTimeline } from './timeline.js';
import type { Part, Timeline } from './types.js';

/** A press of the pause input. */
export interface PausePress {
  readonly part: Part;
  readonly source: Source | undefined;
}

/**
 * Two presses of the pause input of which the second cannot do what it is there for:
 * `no-up-tick`: the button is not up in between, so there is no second edge;
 * `menu-shut`: it falls on one of the first `open` ticks of the menu, which takes no press;
 * `out-of-turn`: it would pause a game that is paused, or unpause one that runs (a window
 * without a frame where `resume` is 0).
 */
export interface PauseConflict {
  readonly reason: 'no-up-tick' | 'menu-shut' | 'out-of-turn';
  /** Undefined where the later press is the first of all. */
  readonly earlier: PausePress | undefined;
  readonly later: PausePress;
  /** The tick of the later press, the first time that this happens. */
  readonly tick: number;
  /** Ticks from the earlier press to the later one. */
  readonly apart: number;
}

/** More than anybody reads; keeps what is kept of each block small. */
const MOST = 100;

interface Press {
  readonly node: RunNode;
  readonly tick: number;
}

/** The presses at the two ends of a node, and the conflicts in it, ticks from its start. */
interface Presses {
  readonly first: Press;
  readonly last: Press;
  readonly conflicts: readonly PauseConflict[];
}

/**
 * The conflicts between presses of the pause input, by their tick, one for each two places in
 * the text. Costs what the text costs: a repeat is looked at twice, however often it runs.
 */
export function analysePause(timeline: Timeline): readonly PauseConflict[] {
  if (!(timeline instanceof CompressedTimeline) || timeline.root === undefined) return [];
  const analysis = new Analysis(timeline.game.pause ?? UNDECLARED_PAUSE);
  const presses = analysis.of(timeline.root);
  if (presses === undefined) return [];
  const { node, tick } = presses.first;
  const turn = timeline.startsPaused ? 'unpauses' : 'pauses';
  if (node.edge === turn) return presses.conflicts;
  const later = shown(presses.first);
  const start: PauseConflict = { reason: 'out-of-turn', earlier: undefined, later, tick, apart: 0 };
  return [start, ...presses.conflicts];
}

class Analysis {
  private readonly known = new Map<TimelineNode, Presses | undefined>();
  private readonly places = new Map<Source | undefined, number>();

  constructor(private readonly pause: PauseTiming) {}

  of(node: TimelineNode): Presses | undefined {
    if (node.kind === 'run') {
      if (node.edge === undefined) return undefined;
      const press = { node, tick: 0 };
      return { first: press, last: press, conflicts: [] };
    }
    if (this.known.has(node)) return this.known.get(node);
    const presses = this.passes(node);
    this.known.set(node, presses);
    return presses;
  }

  private passes(node: Block): Presses | undefined {
    let first: Press | undefined;
    let last: Press | undefined;
    const conflicts: PauseConflict[] = [];
    const seen = new Set<string>();
    const add = (conflict: PauseConflict): void => {
      const pair = this.pair(conflict);
      if (conflicts.length >= MOST || seen.has(pair)) return;
      seen.add(pair);
      conflicts.push(conflict);
    };
    let start = 0;
    // What two passes have between them, any two neighbours have.
    for (let pass = 0; pass < Math.min(2, node.count); pass++) {
      for (const child of node.children) {
        const inside = this.of(child);
        if (inside !== undefined) {
          const next = moved(inside.first, start);
          const found = last === undefined ? undefined : this.conflict(last, next);
          if (found !== undefined) add(found);
          for (const each of inside.conflicts) add(moved(each, start));
          first ??= next;
          last = moved(inside.last, start);
        }
        start += child.ticks;
      }
    }
    if (first === undefined || last === undefined) return undefined;
    const rest = Math.max(0, node.count - 2) * node.onceTicks;
    return { first, last: moved(last, rest), conflicts };
  }

  private conflict(before: Press, after: Press): PauseConflict | undefined {
    const apart = after.tick - before.tick;
    let reason: PauseConflict['reason'];
    if (apart < 2) reason = 'no-up-tick';
    else if (after.node.edge === before.node.edge) reason = 'out-of-turn';
    else if (after.node.edge === 'unpauses' && apart <= this.pause.open) reason = 'menu-shut';
    else return undefined;
    const { tick } = after;
    return { reason, earlier: shown(before), later: shown(after), tick, apart };
  }

  /** Tells the two places of a conflict from all others. */
  private pair({ reason, earlier, later }: PauseConflict): string {
    return `${reason} ${this.place(earlier)} ${this.place(later)}`;
  }

  private place(press: PausePress | undefined): string {
    let place = this.places.get(press?.source);
    if (place === undefined) this.places.set(press?.source, (place = this.places.size));
    return `${press?.part ?? ''}${place}`;
  }
}

function shown({ node: { part, source } }: Press): PausePress {
  return { part, source };
}

function moved<T extends { readonly tick: number }>(what: T, by: number): T {
  return { ...what, tick: what.tick + by };
}
