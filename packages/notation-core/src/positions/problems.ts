import type { Unit } from '../syntax/tree.js';

/**
 * What following a route by the log can show, and the parameters its words need. Spots are
 * written with `@`; several are parted by commas. `path` is how the character got there.
 */
export interface PositionProblems {
  /** A claim, or the goal, where the log says the character is elsewhere. */
  'wrong-landing': { claim: string; spots: string; path: string };
  /** No row says where an item leads from the spots. */
  'unknown-landing': { from: string; item: string; path: string };
  /** A row over several items that its parts contradict. */
  'conflicting-log': { from: string; items: string; says: string; parts: string };
  /** A route that stands on a row seen once. */
  'single-sighting': { from: string; items: string; to: string };
  /** A range whose ends do not land alike. */
  'range-differs': {
    written: string;
    first: string;
    firstSpots: string;
    other: string;
    otherSpots: string;
  };
  /** An `until` that some starts never leave. */
  'never-arrives': { target: string; from: string; cycle: string; tail: number };
  /** Spots that the player is asked to tell apart and cannot: `what` is until, claim or rescue. */
  'look-alikes': { what: string; spot: string; others: string; cue: string };
  /** A start from which nothing is logged. */
  'unproven-start': { spot: string };
  /** A rescue that no logged slip of its route leads to, or that joins where the route never is. */
  'rescue-unreachable': { spot: string; route: string; reason: string };
  /** Two rescues for one spot of a route, or a spot to go on at that is claimed twice. */
  'rescue-ambiguous': { spot: string; route: string; reason: string };
  /** A move that ends outside of its ground, on no spot. */
  'off-ground': { from: string; item: string; ground: string; path: string };
  /** A spot that is declared and nothing speaks of. */
  'unused-spot': { name: string };
}

export type PositionCode = keyof PositionProblems;

export interface PositionProblem<K extends PositionCode = PositionCode> {
  readonly code: K;
  readonly unit: Unit;
  readonly start: number;
  readonly end: number;
  readonly params: PositionProblems[K];
}

/** Takes problems, each place and code once. */
export class Problems {
  readonly found: PositionProblem[] = [];
  private readonly keys = new Set<string>();

  add<K extends PositionCode>(
    code: K,
    at: { unit: Unit; start: number; end: number },
    params: PositionProblems[K],
  ): void {
    const key = `${code} ${at.start} ${at.end}`;
    if (this.keys.has(key)) return;
    this.keys.add(key);
    this.found.push({ code, unit: at.unit, start: at.start, end: at.end, params });
  }
}
