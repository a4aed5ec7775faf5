import { type Basis, Cone, dot } from './cone.js';
import { Heap } from './heap.js';
import { Lattice, type LatticeProof, type Vector } from './lattice.js';

/** How often each move, and what that costs. */
export interface Counts {
  readonly counts: readonly number[];
  readonly cost: number;
}

/** Why no counts of the moves, from 0 on, add up to an offset. */
export type Impossible =
  | ({ readonly kind: 'lattice' } & LatticeProof)
  /** `weights` times the axes is not above 0 for any move, and is for the offset. */
  | { readonly kind: 'direction'; readonly weights: readonly bigint[] }
  /** Every combination that could still get there was looked at. */
  | { readonly kind: 'exhausted'; readonly looked: number };

export type Answer =
  | { readonly kind: 'counts'; readonly best: Counts }
  | { readonly kind: 'impossible'; readonly why: Impossible }
  /** The budget ran out, or numbers would not be exact; no counts cost less than `bound`. */
  | { readonly kind: 'unknown'; readonly bound: number };

/** Combinations looked at before giving up. */
const BUDGET = 400_000;

interface Label {
  readonly left: Vector;
  /** Multiples of the basis moves in `left`, times the determinant. */
  readonly parts: Vector;
  readonly cost: number;
  readonly move: number;
  readonly before: Label | undefined;
}

/**
 * The cheapest way to add up moves to an offset: an integer program in as many rows as axes.
 * The moves of the best basis do most of the way, so what is left is a shortest path over
 * the residues modulo that basis (Gomory, Linear Algebra Appl. 2 (1969) 451), here kept
 * exact where the basis would come out below zero: labels are dropped only where another
 * leaves at least as much to each basis move for no more cost.
 */
export class Combiner {
  private readonly lattice: Lattice;
  private readonly cone: Cone;
  /** Indices of the moves that matter: none that stand still, of equals the cheapest. */
  private readonly used: number[] = [];
  private readonly moves: Vector[];
  private readonly costs: number[];
  private readonly standstill: Lattice;

  /** `costs` are whole numbers above 0. */
  constructor(
    private readonly given: readonly Vector[],
    costs: readonly number[],
  ) {
    const byVector = new Map<string, number>();
    given.forEach((move, i) => {
      if (move.every((x) => x === 0)) return;
      const known = byVector.get(move.join(' '));
      if (known === undefined || (costs[i] ?? 0) < (costs[known] ?? 0)) {
        byVector.set(move.join(' '), i);
      }
    });
    this.used = [...byVector.values()];
    this.lattice = new Lattice(this.used.map((i) => given[i] ?? []));
    this.moves = this.used.map((i) => this.inside(given[i] ?? []) ?? []);
    this.costs = this.used.map((i) => costs[i] ?? 0);
    this.cone = new Cone(this.moves, this.costs, this.lattice.rank);
    const { facets } = this.cone;
    this.standstill = new Lattice(
      this.moves.filter((move) => facets.every((facet) => dot(facet, move) === 0)),
    );
  }

  private inside(offset: Vector): Vector | undefined {
    const found = this.lattice.coordinates(offset);
    return 'modulus' in found ? undefined : found;
  }

  /** No counts for the offset cost less; Infinity where there are none for a simple reason. */
  bound(offset: Vector): number {
    if (offset.every((x) => x === 0)) return 0;
    const inside = this.inside(offset);
    return inside === undefined ? Infinity : Math.ceil(this.cone.bound(inside) - 1e-6);
  }

  solve(offset: Vector, budget = BUDGET): Answer {
    const counts = this.given.map(() => 0);
    if (offset.every((x) => x === 0)) return { kind: 'counts', best: { counts, cost: 0 } };
    const found = this.lattice.coordinates(offset);
    if ('modulus' in found) return { kind: 'impossible', why: { kind: 'lattice', ...found } };
    const { cone } = this;
    if (!cone.isExact || found.some((x) => !Number.isSafeInteger(x))) {
      return { kind: 'unknown', bound: 0 };
    }
    const beyond = cone.beyond(found);
    if (beyond !== undefined) {
      const weights = this.lattice.weightsFor(beyond);
      return { kind: 'impossible', why: { kind: 'direction', weights } };
    }
    const doubt = this.canReach(found, budget);
    if (doubt !== undefined) return doubt;
    const basis = cone.basisFor(found);
    if (basis === undefined) return { kind: 'unknown', bound: 0 };
    const search = this.labels(found, basis, new Dominance(basis.det), budget);
    for (const answer of search) return answer;
    return { kind: 'unknown', bound: 0 };
  }

  /** Further counts in order of cost, the cheapest again first; ends where the budget does. */
  *solutions(offset: Vector, budget = BUDGET): Generator<Counts, void> {
    const inside = this.inside(offset);
    if (inside === undefined || !this.cone.isExact) return;
    const basis = this.cone.basisFor(inside);
    if (basis === undefined) return;
    for (const answer of this.labels(inside, basis, undefined, budget)) {
      if (answer.kind !== 'counts') return;
      yield answer.best;
    }
  }

  /**
   * Labels in order of their bound. With dominance the first answer is the last; without, each
   * set of moves beside the basis is met once, in the order of their indices.
   */
  private *labels(
    offset: Vector,
    basis: Basis,
    dominance: Dominance | undefined,
    budget: number,
  ): Generator<Answer, void> {
    const { cone, moves, costs } = this;
    const waiting: Label[] = [];
    const heap = new Heap();
    const push = (left: Vector, cost: number, move: number, before: Label | undefined): void => {
      const most = cone.bound(left);
      if (most === Infinity) return;
      const parts = basis.inverse.map((row) => dot(row, left));
      const label = { left, parts, cost, move, before };
      if (dominance?.drops(parts, cost * basis.det + dot(basis.prices, left)) === true) return;
      heap.push(waiting.length, cost + Math.ceil(most - 1e-6), -cost);
      waiting.push(label);
    };
    push(offset, 0, -1, undefined);
    let looked = 0;
    for (let at = heap.pop(); at >= 0; at = heap.pop()) {
      const label = waiting[at];
      if (label === undefined) continue;
      if (++looked > budget) {
        yield { kind: 'unknown', bound: heap.lastKey };
        return;
      }
      const { left, parts, cost, move: last } = label;
      if (parts.every((part) => part >= 0 && part % basis.det === 0)) {
        yield { kind: 'counts', best: this.counted(label, basis) };
        if (dominance !== undefined) return;
      }
      const from = dominance === undefined ? Math.max(0, last) : 0;
      for (let i = from; i < moves.length; i++) {
        if (basis.moves.includes(i)) continue;
        const move = moves[i] ?? [];
        push(left.map((x, axis) => x - (move[axis] ?? 0)), cost + (costs[i] ?? 0), i, label); // prettier-ignore
      }
    }
    if (dominance !== undefined) yield { kind: 'impossible', why: { kind: 'exhausted', looked } };
  }

  private counted(label: Label, basis: Basis): Counts {
    const counts = this.given.map(() => 0);
    let { cost } = label;
    const add = (move: number, times: number): void => {
      const index = this.used[move] ?? 0;
      counts[index] = (counts[index] ?? 0) + times;
    };
    basis.moves.forEach((move, j) => {
      const times = (label.parts[j] ?? 0) / basis.det;
      add(move, times);
      cost += times * (this.costs[move] ?? 0);
    });
    for (let at: Label | undefined = label; at !== undefined; at = at.before) {
      if (at.move >= 0) add(at.move, 1);
    }
    return { counts, cost };
  }

  /**
   * Where moves can undo each other, labels need never end; but then what can be undone does
   * not matter, and modulo that the rest leads only forward: finitely many places to look at.
   */
  private canReach(offset: Vector, budget: number): Answer | undefined {
    const { standstill, cone } = this;
    if (standstill.rank === 0) return undefined;
    const forward = this.moves.filter((move) => cone.facets.some((f) => dot(f, move) !== 0));
    const key = (at: Vector): Vector => standstill.remainder(at);
    const start = key(offset);
    const seen = new Set([start.join(' ')]);
    const queue: Vector[] = [start];
    for (const at of queue) {
      if (at.every((x) => x === 0)) return undefined;
      if (queue.length > budget) return { kind: 'unknown', bound: 0 };
      for (const move of forward) {
        const left = at.map((x, axis) => x - (move[axis] ?? 0));
        if (cone.beyond(left) !== undefined) continue;
        const next = key(left);
        const name = next.join(' ');
        if (seen.has(name)) continue;
        seen.add(name);
        queue.push(next);
      }
    }
    return { kind: 'impossible', why: { kind: 'exhausted', looked: queue.length } };
  }
}

/** What labels are known by residue: those that no other makes needless. */
class Dominance {
  private readonly known = new Map<string, { parts: Vector; cost: number }[]>();

  constructor(private readonly det: number) {}

  /** Whether a label is needless; if not, it is remembered. `cost` without the basis moves. */
  drops(parts: Vector, cost: number): boolean {
    const { det } = this;
    const key = parts.map((part) => ((part % det) + det) % det).join(' ');
    const list = this.known.get(key);
    if (list === undefined) {
      this.known.set(key, [{ parts, cost }]);
      return false;
    }
    for (const known of list) {
      if (known.cost <= cost && known.parts.every((part, j) => part >= (parts[j] ?? 0)))
        return true;
    }
    list.push({ parts, cost });
    return false;
  }
}
