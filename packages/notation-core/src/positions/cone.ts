import type { Vector } from './lattice.js';

/** As many moves as axes that are the cheapest way in their directions, if parts could be had. */
export interface Basis {
  /** Indices of the moves. */
  readonly moves: readonly number[];
  /** Their determinant, positive. */
  readonly det: number;
  /** `inverse[j] · v / det` is how often move j is in v. */
  readonly inverse: readonly Vector[];
  /** `prices · v / det` is the least cost of v, a bound wherever it ends. */
  readonly prices: Vector;
}

/** The moves of a problem seen as directions, with their costs; at most three axes. */
export class Cone {
  readonly bases: Basis[] = [];
  /** Directions in which no move leads: `facet · v` is not above 0 for every move. */
  readonly facets: Vector[] = [];
  /** False where numbers would not be exact; nothing else is to be believed then. */
  readonly isExact: boolean;

  constructor(
    readonly moves: readonly Vector[],
    readonly costs: readonly number[],
    readonly axes: number,
  ) {
    let exact = true;
    const safe = (value: number): number => {
      if (!Number.isSafeInteger(value)) exact = false;
      return value;
    };
    for (const chosen of choices(moves.length, axes)) {
      const square = chosen.map((i) => moves[i] ?? []);
      const det = safe(determinant(square));
      if (det === 0) continue;
      const inverse = adjugate(square).map((row) => row.map((x) => safe(det < 0 ? -x : x)));
      const size = Math.abs(det);
      const prices = Array.from({ length: axes }, (_, axis) =>
        safe(chosen.reduce((sum, i, j) => sum + (costs[i] ?? 0) * (inverse[j]?.[axis] ?? 0), 0)),
      );
      const fair = moves.every((move, i) => safe(dot(prices, move)) <= (costs[i] ?? 0) * size);
      if (fair) this.bases.push({ moves: chosen, det: size, inverse, prices });
    }
    for (const chosen of choices(moves.length, axes - 1)) {
      const normal = perpendicular(
        chosen.map((i) => moves[i] ?? []),
        axes,
      );
      if (normal.every((x) => x === 0)) continue;
      for (const facet of [normal, normal.map((x) => -x)]) {
        if (moves.every((move) => safe(dot(facet, move)) <= 0)) this.addFacet(facet);
      }
    }
    this.isExact = exact;
  }

  private addFacet(facet: Vector): void {
    const by = facet.reduce((a, b) => gcd(a, b), 0);
    const small = facet.map((x) => x / by);
    if (!this.facets.some((known) => known.every((x, i) => x === small[i]))) {
      this.facets.push(small);
    }
  }

  /** The facet beyond which an offset lies, where no sum of moves goes. */
  beyond(offset: Vector): Vector | undefined {
    return this.facets.find((facet) => dot(facet, offset) > 0);
  }

  /** A bound on the cost of an offset; Infinity where no moves lead there. */
  bound(offset: Vector): number {
    if (this.beyond(offset) !== undefined) return Infinity;
    let most = 0;
    for (const { prices, det } of this.bases) most = Math.max(most, dot(prices, offset) / det);
    return most;
  }

  /** The basis whose moves alone lead in the direction of the offset most cheaply. */
  basisFor(offset: Vector): Basis | undefined {
    return this.bases.find(({ inverse }) => inverse.every((row) => dot(row, offset) >= 0));
  }
}

export function dot(a: Vector, b: Vector): number {
  let sum = 0;
  for (let i = 0; i < a.length; i++) sum += (a[i] ?? 0) * (b[i] ?? 0);
  return sum;
}

function* choices(from: number, size: number, least = 0): Generator<number[]> {
  if (size === 0) yield [];
  else {
    for (let i = least; i < from; i++) {
      for (const rest of choices(from, size - 1, i + 1)) yield [i, ...rest];
    }
  }
}

function at(rows: readonly Vector[], i: number, j: number): number {
  return rows[i]?.[j] ?? 0;
}

function determinant(rows: readonly Vector[]): number {
  if (rows.length === 1) return at(rows, 0, 0);
  if (rows.length === 2) return at(rows, 0, 0) * at(rows, 1, 1) - at(rows, 0, 1) * at(rows, 1, 0);
  return dot(rows[0] ?? [], cross(rows[1] ?? [], rows[2] ?? []));
}

/** Row j, divided by the determinant, gives the multiple of row j of the square in a vector. */
function adjugate(rows: readonly Vector[]): Vector[] {
  if (rows.length === 1) return [[1]];
  if (rows.length === 2) {
    return [
      [at(rows, 1, 1), -at(rows, 1, 0)],
      [-at(rows, 0, 1), at(rows, 0, 0)],
    ];
  }
  const [a = [], b = [], c = []] = rows;
  return [cross(b, c), cross(c, a), cross(a, b)];
}

/** A vector at right angles to all given ones, one fewer than there are axes. */
function perpendicular(vectors: readonly Vector[], axes: number): Vector {
  if (axes === 1) return [1];
  if (axes === 2) return [-at(vectors, 0, 1), at(vectors, 0, 0)];
  return cross(vectors[0] ?? [], vectors[1] ?? []);
}

function cross(a: Vector, b: Vector): Vector {
  const x = (i: number, j: number): number => (a[i] ?? 0) * (b[j] ?? 0) - (a[j] ?? 0) * (b[i] ?? 0);
  return [x(1, 2), x(2, 0), x(0, 1)];
}

export function gcd(a: number, b: number): number {
  let [x, y] = [Math.abs(a), Math.abs(b)];
  while (y !== 0) [x, y] = [y, x % y];
  return x;
}
