import type { Resolver } from '../model/resolve.js';
import type { Scope } from '../model/scope.js';
import type { Coordinates } from '../syntax/tree.js';
import { compile, lengthOf } from './compile.js';
import { LONGEST_ROW, writeOut, type Log } from './log.js';

/** A move of a ground: its items as tokens, and what it adds on each axis (scaled). */
export interface Move {
  readonly ids: readonly number[];
  readonly by: readonly number[];
  readonly written: string;
}

/** Open ground: corners and moves in whole units of `10^-scale`. */
export interface Ground {
  readonly name: string;
  readonly low: readonly number[] | undefined;
  readonly high: readonly number[] | undefined;
  readonly moves: readonly Move[];
}

/** What became of a move on ground. `off` where it ends outside, on no spot. */
export interface Landing {
  readonly place: number;
  readonly off: boolean;
  readonly length: number;
  readonly move: Move;
}

/**
 * Places by coordinates. Every coordinate of the scope is a whole number of the smallest
 * decimal unit written anywhere in it, so that sums are exact.
 */
export class Grounds {
  readonly grounds: Ground[] = [];
  /** Decimal places of a unit. */
  readonly scale: number;
  private readonly at = new Map<number, readonly number[]>();
  private readonly spotAt = new Map<string, number>();
  private readonly groundOf = new Map<number, Ground | undefined>();

  constructor(
    private readonly log: Log,
    scope: Scope,
    resolver: Resolver,
  ) {
    const all: Coordinates[] = [];
    for (const { declaration } of scope.grounds.values()) {
      if (declaration.within !== undefined) all.push(declaration.within);
      if (declaration.to !== undefined) all.push(declaration.to);
      for (const move of declaration.moves) if (move.by !== undefined) all.push(move.by);
    }
    const used = scope.grounds.size > 0;
    if (used) {
      for (const { declaration } of scope.spots.values()) {
        if (declaration.at !== undefined) all.push(declaration.at);
      }
    }
    this.scale = Math.max(0, ...all.flatMap((each) => each.values.map((v) => decimals(v.text))));
    if (!used) return;
    for (const [name, { declaration }] of scope.spots) {
      const at = declaration.at === undefined ? undefined : this.units(declaration.at);
      if (at === undefined) continue;
      const place = log.spot(name);
      this.at.set(place, at);
      if (!declaration.paused) this.spotAt.set(at.join(' '), place);
    }
    for (const [name, { declaration, unit }] of scope.grounds) {
      const from = declaration.within === undefined ? undefined : this.units(declaration.within);
      const to = declaration.to === undefined ? undefined : this.units(declaration.to);
      const moves: Move[] = [];
      for (const move of declaration.moves) {
        const by = move.by === undefined ? undefined : this.units(move.by);
        if (by === undefined) continue;
        const body = resolver.resolve(move.body, unit, undefined, { mayChoose: false });
        const nodes = compile(body, log.tokens);
        if (lengthOf(nodes) > LONGEST_ROW) continue;
        const ids = writeOut(nodes, []);
        const written = unit.text.slice(move.start, move.body[move.body.length - 1]?.end);
        if (ids.length > 0) moves.push({ ids, by, written });
        log.longest = Math.max(log.longest, ids.length);
        if ((log.tokens.neutral[ids[0] ?? 0] ?? -1) >= 0) log.waitsFirst = true;
      }
      const corners = from !== undefined && to !== undefined;
      this.grounds.push({
        name,
        low: corners ? from.map((v, i) => Math.min(v, to[i] ?? v)) : undefined,
        high: corners ? from.map((v, i) => Math.max(v, to[i] ?? v)) : undefined,
        moves,
      });
    }
  }

  /** Whole units, or undefined where a number is too large to be exact. */
  units(coordinates: Coordinates): number[] | undefined {
    const values = coordinates.values.map((value) => {
      const negative = value.text.startsWith('-');
      const [whole = '', part = ''] = value.text.replace('-', '').split('.');
      const number = Number(whole + part.padEnd(this.scale, '0'));
      return negative ? -number : number;
    });
    return values.every((value) => Number.isSafeInteger(value)) ? values : undefined;
  }

  coordinates(place: number): readonly number[] | undefined {
    return this.at.get(place);
  }

  /** The declared spot at the coordinates. */
  spotOn(at: readonly number[]): number | undefined {
    return this.spotAt.get(at.join(' '));
  }

  /** The ground that a place lies in. */
  ground(place: number): Ground | undefined {
    if (this.grounds.length === 0) return undefined;
    if (this.groundOf.has(place)) return this.groundOf.get(place);
    const at = this.at.get(place);
    const found = at === undefined ? undefined : this.grounds.find((each) => inside(each, at));
    this.groundOf.set(place, found);
    return found;
  }

  /** Where the coordinates are: a spot, or a nameless place inside the ground, or off it. */
  placeAt(at: readonly number[], ground: Ground): { place: number; off: boolean } {
    const key = at.join(' ');
    const spot = this.spotAt.get(key);
    if (spot !== undefined) return { place: spot, off: false };
    if (!inside(ground, at)) return { place: -1, off: true };
    const place = this.log.spot(`(${at.map((v) => this.show(v)).join(', ')})`);
    this.at.set(place, at);
    return { place, off: false };
  }

  /** Units as a decimal. */
  show(units: number): string {
    if (this.scale === 0) return String(units);
    const digits = String(Math.abs(units)).padStart(this.scale + 1, '0');
    const whole = digits.slice(0, -this.scale);
    const part = digits.slice(-this.scale).replace(/0+$/, '');
    return (units < 0 ? '-' : '') + whole + (part === '' ? '' : `.${part}`);
  }

  /** The longest move whose items come next; `fits` says whether it ends at rest. */
  move(
    place: number,
    token: (ahead: number) => number,
    fits: (move: Move) => boolean,
  ): Landing | undefined {
    const ground = this.ground(place);
    const at = this.at.get(place);
    if (ground === undefined || at === undefined) return undefined;
    let best: Move | undefined;
    for (const move of ground.moves) {
      if (best !== undefined && best.ids.length >= move.ids.length) continue;
      if (move.by.length !== at.length) continue;
      if (move.ids.every((id, ahead) => token(ahead) === id) && fits(move)) best = move;
    }
    if (best === undefined) return undefined;
    const { by } = best;
    const to = at.map((value, i) => value + (by[i] ?? 0));
    return { ...this.placeAt(to, ground), length: best.ids.length, move: best };
  }
}

function decimals(text: string): number {
  const dot = text.indexOf('.');
  return dot < 0 ? 0 : text.length - dot - 1;
}

export function inside(ground: Ground, at: readonly number[]): boolean {
  const { low, high } = ground;
  if (low === undefined || high === undefined) return true;
  if (low.length !== at.length) return false;
  return at.every((value, i) => value >= (low[i] ?? value) && value <= (high[i] ?? value));
}
