import { nominalRoute } from './nominal.js';
import { buildTimeline } from '../timeline/build.js';
import { Follower } from './follow.js';
import { compile } from './compile.js';
import type { Between } from './effort.js';
import type { Known } from './context.js';
import type { Outcome } from './log.js';
import { Places } from './places.js';
import type { Writer } from './render.js';
import type { Edge } from './space.js';
import { parse } from '../syntax/parse.js';
import type { Scope } from '../model/scope.js';
import type { RepeatStep, Sequence, Step } from '../model/steps.js';

/** What to do on standing at a spot that the main course does not go on from. */
export interface PlanRescue {
  readonly spot: string;
  readonly sequence: string;
  /** The spot of the route at which it joins it. */
  readonly to: string;
}

/** A sequence that leads from the starts to the goal, followed and found true. */
export interface Plan {
  /** The items, in the notation, on one line. */
  readonly sequence: string;
  /** The same, item by item, for breaking into lines. */
  readonly items: readonly string[];
  readonly starts: readonly string[];
  /** Names with `@`, or coordinates. */
  readonly goal: string;
  /** Of the nominal timeline. */
  readonly ticks: number;
  /** Of the nominal course, chords counting once, the pause button not at all. */
  readonly presses: number;
  /** The least sightings of any row used; Infinity where no row is needed. */
  readonly sightings: number;
  /** Whether it counts with every landing that was ever seen, not only the most sighted. */
  readonly isSure: boolean;
  readonly rescues: readonly PlanRescue[];
  readonly startsPaused: boolean;
  readonly endsPaused: boolean;
}

/** The items of a path; `claims` are spots to claim, by the index of the move behind them. */
export function itemsOf(
  edges: readonly Edge[],
  known: Known,
  writer: Writer,
  between: Between,
  startsPaused: boolean,
  endsPaused: boolean,
  claims: ReadonlyMap<number, number> = new Map(),
): string[] {
  const { log } = known;
  const texts: string[] = [];
  let ids: number[] = [];
  let isFirst = startsPaused;
  const flush = (last: boolean): void => {
    if (ids.length > 0) texts.push(...writer.texts(ids, isFirst, last && endsPaused));
    if (ids.length > 0) isFirst = false;
    ids = [];
  };
  let before: Edge | undefined;
  let rested = false;
  const claim = (at: number): void => {
    const spot = claims.get(at);
    if (spot === undefined) return;
    flush(at === edges.length);
    const last = texts.pop();
    texts.push(`${last === undefined ? '' : `${last} `}@${log.name(spot)}`);
  };
  for (const [index, edge] of edges.entries()) {
    const { move } = edge;
    claim(index);
    const gap = before === undefined || rested ? [] : between.ids(before.move.effort, move.effort);
    rested = false;
    const isWritten = before?.move.effort.waitsLast === true || move.effort.waitsFirst;
    if (move.until === undefined) {
      if (ids.length === 0 && before !== undefined)
        texts.push(...gapTexts(gap, isWritten, between, writer));
      else ids.push(...gap);
      ids.push(...move.ids);
    } else {
      flush(false);
      texts.push(...gapTexts(gap, isWritten, between, writer));
      // Where the pace does not bring the character to rest, each time waits by itself.
      const edged = move.effort.waitsFirst || move.effort.waitsLast;
      const own = between.written || edged ? between.ids(move.effort, move.effort) : [];
      rested = own.length > 0;
      const once = writer.writeOne([...move.ids, ...own]);
      texts.push(`${once}*${move.until.least}+ until @${log.name(move.until.spot)}`);
    }
    before = edge;
  }
  claim(edges.length);
  flush(true);
  return texts;
}

function gapTexts(
  gap: readonly number[],
  isWritten: boolean,
  between: Between,
  writer: Writer,
): string[] {
  const [id] = gap;
  return id === undefined || (id === between.id && !between.written && !isWritten)
    ? []
    : writer.texts(gap);
}

export interface Proof {
  readonly ticks: number;
  readonly presses: number;
  readonly sightings: number;
  readonly ends: readonly number[];
}

export interface ProveOptions {
  /** Only the most sighted landing of each row. */
  readonly likely: boolean;
  readonly startsPaused: boolean;
  readonly endsPaused: boolean;
  /** Whether less sighted landings have rescues. */
  readonly isRescued?: boolean;
}

/** Names that no file gives its routes, for a route that is only followed. */
const TRIAL = 'trial';

/**
 * Reads a sequence back as a route and follows it as the checker does: what it takes, and
 * where it ends. Nothing of how it was found is believed.
 */
export function prove(
  sequence: string,
  starts: readonly string[],
  scope: Scope,
  known: Known,
  { likely, startsPaused, endsPaused, isRescued = false }: ProveOptions,
): Proof | undefined {
  const from = starts.map((name) => `@${name}`).join(', ');
  const text = `route ${TRIAL}${starts.every(isName) ? ` from ${from}` : ''} {\n${sequence}\n}\n`;
  const unit = parse(text).units[0]?.unit;
  const route = unit?.declaration;
  if (unit === undefined || route?.kind !== 'route' || unit.problems.length > 0) return undefined;
  const { log, grounds } = known;
  const cut = (steps: readonly Step[]): readonly Step[] =>
    steps.slice(startsPaused ? 1 : 0, endsPaused ? -1 : undefined);
  const whole = known.resolver.resolve(route.body, unit);
  const nodes = compile({ ...whole, steps: cut(whole.steps) }, log.tokens);
  const places = new Places();
  for (const name of starts) places.add(log.spot(name), undefined);
  let sightings = Infinity;
  const watch = {
    row(_from: number, outcome: Outcome): void {
      sightings = Math.min(sightings, outcome.count);
    },
  };
  const ends = new Follower(log, grounds, { watch, likely }).follow(nodes, places);
  if (isRescued) {
    // Slips have rescues: what the course stands on is the landing that it goes on from.
    sightings = Infinity;
    new Follower(log, grounds, { watch, likely: true }).follow(nodes, places);
  }
  const nominal = nominalRoute(route, unit, scope);
  const steps = cut(nominal.sequence.steps);
  const timeline = buildTimeline({ ...nominal.sequence, steps }, scope.game, {
    repeatCount: nominal.repeatCount,
    startPaused: startsPaused,
  });
  if ('tooLong' in timeline) return undefined;
  return {
    ticks: timeline.ticks,
    presses: pressesIn(nominal.sequence, nominal.repeatCount),
    sightings,
    ends: ends.list,
  };
}

/** Presses of a sequence: chords count once, so does each held part of a window, and each hold. */
export function pressesIn(sequence: Sequence, times: (step: RepeatStep) => number): number {
  const known = new Map<Sequence, number>();
  const count = (each: Sequence): number => {
    let sum = known.get(each);
    if (sum === undefined) {
      sum = 0;
      for (const step of each.steps) {
        if (step.kind === 'press') sum++;
        else if (step.kind === 'window') sum += step.parts.filter(({ held }) => held !== 0).length;
        else if (step.kind === 'repeat') sum += times(step) * count(step.body);
        else if (step.kind === 'hold') sum += 1 + count(step.body);
        else if (step.kind === 'group') sum += count(step.body);
      }
      known.set(each, sum);
    }
    return sum;
  };
  return count(sequence);
}

function isName(name: string): boolean {
  return !name.startsWith('(');
}
