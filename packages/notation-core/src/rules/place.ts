import type { Unit } from '../syntax/tree.js';

/** A place in a unit, counted from the start of the unit. */
export interface Place {
  readonly unit: Unit;
  readonly start: number;
  readonly end: number;
}
