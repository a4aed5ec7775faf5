import type { Choices } from '../model/resolve.js';
import type { Game } from '../model/game.js';
import type { Source } from '../model/steps.js';
import type { TimelineNode } from '../timeline/nodes.js';
import { CompressedTimeline } from '../timeline/timeline.js';
import type { Part } from '../timeline/types.js';
import type { RouteDeclaration, Unit } from '../syntax/tree.js';
import type { Analysis, FileSpan } from './analysis.js';
import { factsOf, routeFacts, type RouteFacts } from './route-facts.js';
import { levelsAt, pointAt } from './items-at.js';
import type { Measured } from './measure.js';

/** A stretch of equal ticks of the nominal run of a route. */
export interface Segment {
  readonly tick: number;
  readonly ticks: number;
  /** The frame that runs on its first tick; undefined where the game is paused. */
  readonly frame: number | undefined;
  /** The letters that are held, in the order of the game; the pause input's last. */
  readonly held: readonly string[];
  readonly part: Part;
  /** The item that it is of, in the file that it is written in; undefined for the pace. */
  readonly item: FileSpan | undefined;
}

export interface RouteTimeline {
  readonly route: string;
  /** Ticks a second, as a fraction: `30000/1001`, `50`. */
  readonly clock: string;
  readonly ticks: number;
  readonly frames: number;
  /** The stretches of the window, in order, cut to it. */
  readonly segments: readonly Segment[];
  /** The tick at which the segments end: less than the window's end where there are too many. */
  readonly until: number;
}

export interface TimelineOptions {
  /** Ticks, from and up to; the whole where left out. */
  readonly from?: number;
  readonly to?: number;
  /** The most segments that are given; 2000 where left out. */
  readonly most?: number;
  readonly choices?: Choices;
}

/** Why there is no timeline. */
export type NoTimeline = { readonly none: 'no-route' | 'too-long' };

/** The nominal timeline of the route at an offset, as segments of a window of ticks. */
export function routeTimeline(
  analysis: Analysis,
  path: string,
  offset: number,
  { from = 0, to = Infinity, most = 2000, choices }: TimelineOptions = {},
): RouteTimeline | NoTimeline {
  const found = routeAt(analysis, path, offset, choices);
  if (found === undefined) return { none: 'no-route' };
  const { timeline } = found.facts;
  if ('tooLong' in timeline) return { none: 'too-long' };
  const { game, ticks, frames } = timeline;
  const segments: Segment[] = [];
  let until = Math.min(Math.max(0, Math.floor(from)), ticks);
  for (const run of timeline.runs(from, to)) {
    if (segments.length >= most) break;
    const held = lettersOf(run.held, run.pause, game);
    const item = run.source && spanOf(analysis, run.source);
    segments.push({
      tick: run.tick,
      ticks: run.ticks,
      frame: run.frame,
      held,
      part: run.part,
      item,
    });
    until = run.tick + run.ticks;
  }
  const { num, den } = game.clock;
  const clock = den === 1n ? String(num) : `${num}/${den}`;
  return { route: found.route.name?.name ?? '', clock, ticks, frames, segments, until };
}

/** What is played on a tick: the item as it is written, and the item of the route's body around it. */
export interface ItemAtTick {
  readonly tick: number;
  readonly frame: number | undefined;
  readonly held: readonly string[];
  readonly part: Part;
  readonly item: FileSpan | undefined;
  readonly inRoute: FileSpan | undefined;
}

export function itemAtTick(
  analysis: Analysis,
  path: string,
  offset: number,
  tick: number,
  choices?: Choices,
): ItemAtTick | undefined {
  const found = routeAt(analysis, path, offset, choices);
  if (found === undefined || 'tooLong' in found.facts.timeline) return undefined;
  const { timeline, measured = [] } = found.facts;
  const run = timeline.at(tick);
  if (run === undefined) return undefined;
  const whole = measured[lastFrom(measured, tick)];
  const around = whole !== undefined && tick < whole.to.ticks ? whole.item : undefined;
  return {
    tick,
    frame: run.frame === undefined ? undefined : run.frame + tick - run.tick,
    held: lettersOf(run.held, run.pause, timeline.game),
    part: run.part,
    item: run.source && spanOf(analysis, run.source),
    inRoute: around && spanOf(analysis, { unit: found.unit, item: around }),
  };
}

/** When the item at an offset is played. */
export interface TicksAt {
  /** `[from, to)`, in order, as many as asked for. */
  readonly ranges: readonly { readonly from: number; readonly to: number }[];
  /** Whether there are more. */
  readonly more: boolean;
}

/** The ticks of the item at an offset of a route's body, the first `most` times that it is played. */
export function ticksAt(
  analysis: Analysis,
  path: string,
  offset: number,
  { most = 100, choices }: { readonly most?: number; readonly choices?: Choices } = {},
): TicksAt | undefined {
  const found = routeAt(analysis, path, offset, choices);
  if (found === undefined) return undefined;
  const { timeline, measured } = found.facts;
  if (!(timeline instanceof CompressedTimeline)) return undefined;
  const at = offset - found.start;
  const levels = levelsAt(found.route.body, at);
  const item = [...levels].reverse().find((level) => level.item !== undefined)?.item;
  if (item === undefined) return undefined;
  const outer = measured?.find((each) => each.item === item);
  if (outer !== undefined) {
    return { ranges: [{ from: outer.from.ticks, to: outer.to.ticks }], more: false };
  }
  const is = ({ unit, item: of }: Source): boolean =>
    unit === found.unit && of.start >= item.start && of.end <= item.end;
  return new Occasions(is, most).of(timeline.root);
}

/** Where an item is played, in a graph of blocks: parts without it are passed over at once. */
class Occasions {
  private readonly ranges: { from: number; to: number }[] = [];
  /** Stretches that may still be looked at: neighbours grow together, and could be without number. */
  private left: number;
  private readonly holds = new Map<TimelineNode, boolean>();

  constructor(
    private readonly is: (source: Source) => boolean,
    private readonly most: number,
  ) {
    this.left = 20 * most;
  }

  of(root: TimelineNode | undefined): TicksAt {
    const whole = root === undefined || this.visit(root, 0);
    return { ranges: this.ranges, more: !whole };
  }

  /** False where there are more than can be given. */
  private visit(node: TimelineNode, from: number): boolean {
    if (!this.has(node)) return true;
    if (node.kind === 'run') return this.add(from, from + node.ticks);
    for (let pass = 0; pass < node.count; pass++) {
      let at = from + pass * node.onceTicks;
      for (const child of node.children) {
        if (!this.visit(child, at)) return false;
        at += child.ticks;
      }
    }
    return true;
  }

  private add(from: number, to: number): boolean {
    if (this.left-- <= 0) return false;
    const last = this.ranges[this.ranges.length - 1];
    if (last?.to === from) last.to = to;
    else if (this.ranges.length < this.most) this.ranges.push({ from, to });
    else return false;
    return true;
  }

  private has(node: TimelineNode): boolean {
    if (node.kind === 'run') return node.source !== undefined && this.is(node.source);
    let has = this.holds.get(node);
    if (has === undefined) {
      has = node.children.some((child) => this.has(child));
      this.holds.set(node, has);
    }
    return has;
  }
}

interface RouteHere {
  readonly route: RouteDeclaration;
  readonly unit: Unit;
  readonly start: number;
  readonly facts: RouteFacts;
}

function routeAt(
  analysis: Analysis,
  path: string,
  offset: number,
  choices: Choices | undefined,
): RouteHere | undefined {
  const point = pointAt(analysis, path, offset);
  if (point === undefined) return undefined;
  const { unit, scope, start } = point;
  const route = unit.declaration;
  if (route.kind !== 'route') return undefined;
  const facts = choices === undefined ? routeFacts(scope, unit, route) : factsOf(scope, unit, route, choices); // prettier-ignore
  return { route, unit, start, facts };
}

function spanOf(analysis: Analysis, { unit, item }: Source): FileSpan | undefined {
  const place = analysis.place(unit);
  if (place === undefined) return undefined;
  const { file, start } = place;
  return { path: file.path, start: start + item.start, end: start + item.end };
}

function lettersOf(held: number, pause: boolean, game: Game): string[] {
  const letters = game.inputs.filter(({ index }) => (held & (1 << index)) !== 0);
  const names = letters.map(({ letter }) => letter);
  return pause ? [...names, game.pause?.letter ?? 'P'] : names;
}

/** The last item that begins at the tick or in front of it, and takes any time. */
function lastFrom(measured: readonly Measured[], tick: number): number {
  let low = 0;
  let high = measured.length;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((measured[middle]?.from.ticks ?? 0) <= tick) low = middle;
    else high = middle;
  }
  return low;
}
