/** A vector of whole numbers, one an axis. */
export type Vector = readonly number[];

/**
 * Why an offset is no sum of moves at all, however often and even backwards: for every move
 * the sum of `weights` times its axes is a multiple of `modulus` (0: is nothing), and for the
 * offset it is `rest` more. A certificate that anybody can check by hand.
 */
export interface LatticeProof {
  readonly weights: readonly bigint[];
  readonly modulus: bigint;
  readonly rest: bigint;
}

/**
 * All sums of whole multiples of some vectors, by a basis in echelon form (Hermite normal
 * form: Cohen, A Course in Computational Algebraic Number Theory, 2.4.2).
 */
export class Lattice {
  /** Row k has its first entry in column `pivots[k]`, positive; exact whatever its size. */
  readonly rows: bigint[][] = [];
  readonly pivots: number[] = [];

  constructor(vectors: readonly Vector[]) {
    const dimension = vectors[0]?.length ?? 0;
    let rest = vectors.map((vector) => vector.map(BigInt));
    for (let column = 0; column < dimension; column++) {
      // Euclid's algorithm on one column of all vectors at once.
      for (;;) {
        rest = rest.filter((row) => row.some((value) => value !== 0n));
        const withEntry = rest.filter((row) => row[column] !== 0n);
        const [first, ...others] = withEntry.sort((a, b) =>
          size(a[column]) < size(b[column]) ? -1 : 1,
        );
        if (first === undefined) break;
        for (const other of others) {
          subtract(other, first, (other[column] ?? 0n) / (first[column] ?? 1n));
        }
        if (others.every((other) => other[column] === 0n)) {
          if ((first[column] ?? 0n) < 0n) first.forEach((value, i) => (first[i] = -value));
          this.rows.push(first);
          this.pivots.push(column);
          rest = rest.filter((row) => row !== first);
          break;
        }
      }
    }
  }

  get rank(): number {
    return this.rows.length;
  }

  /** The offset as whole multiples of the rows, or the proof that it is none. */
  coordinates(offset: Vector): readonly number[] | LatticeProof {
    const left = offset.map(BigInt);
    const counts: number[] = [];
    for (let k = 0; k < this.rows.length; k++) {
      const row = this.rows[k] ?? [];
      const column = this.pivots[k] ?? 0;
      const pivot = row[column] ?? 1n;
      const value = left[column] ?? 0n;
      if (value % pivot !== 0n) return this.proof(k, offset);
      subtract(left, row, value / pivot);
      counts.push(Number(value / pivot));
    }
    const odd = left.findIndex((value) => value !== 0n);
    return odd < 0 ? counts : this.proofOutside(odd, offset);
  }

  /** The same offset for all that differ by a sum: what is left after whole multiples. */
  remainder(offset: Vector): Vector {
    const left = offset.map(BigInt);
    for (let k = 0; k < this.rows.length; k++) {
      const row = this.rows[k] ?? [];
      const column = this.pivots[k] ?? 0;
      const pivot = row[column] ?? 1n;
      const value = left[column] ?? 0n;
      subtract(left, row, (value - mod(value, pivot)) / pivot);
    }
    return left.map(Number);
  }

  /** Weights on the axes that give `values[k]` on row k, up to a common positive factor. */
  weightsFor(values: Vector): readonly bigint[] {
    const dimension = this.rows[0]?.length ?? 0;
    const weights = new Array<bigint>(dimension).fill(0n);
    let scale = 1n;
    for (let k = this.rows.length - 1; k >= 0; k--) {
      const row = this.rows[k] ?? [];
      const column = this.pivots[k] ?? 0;
      const pivot = row[column] ?? 1n;
      const missing = BigInt(values[k] ?? 0) * scale - dot(weights, row);
      for (let i = 0; i < dimension; i++) weights[i] = (weights[i] ?? 0n) * pivot;
      scale *= pivot;
      weights[column] = missing;
    }
    const by = weights.reduce((a, b) => gcd(a, b), 0n);
    return by === 0n ? weights : weights.map((weight) => weight / by);
  }

  /** The multiple of row k in any sum is a whole number: as weights over one denominator. */
  private proof(k: number, offset: Vector): LatticeProof {
    // Solve y · row_j = [j = k] from the last row up to k, over the pivots, as fractions.
    const weights = new Array<bigint>(offset.length).fill(0n);
    weights[this.pivots[k] ?? 0] = 1n;
    let under = this.rows[k]?.[this.pivots[k] ?? 0] ?? 1n;
    for (let j = k - 1; j >= 0; j--) {
      const above = this.rows[j] ?? [];
      const column = this.pivots[j] ?? 0;
      const pivot = above[column] ?? 1n;
      // Weights so far give `sum / under` on this row; the weight of its pivot undoes it.
      const sum = dot(weights, above);
      for (let i = 0; i < weights.length; i++) weights[i] = (weights[i] ?? 0n) * pivot;
      under *= pivot;
      weights[column] = -sum;
    }
    return reduced(weights, under, offset);
  }

  /** A direction in which no move leads: weights that vanish on every row. */
  private proofOutside(odd: number, offset: Vector): LatticeProof {
    const weights = new Array<bigint>(offset.length).fill(0n);
    weights[odd] = 1n;
    for (let j = this.rows.length - 1; j >= 0; j--) {
      const row = this.rows[j] ?? [];
      const column = this.pivots[j] ?? 0;
      const pivot = row[column] ?? 1n;
      const sum = dot(weights, row);
      for (let i = 0; i < weights.length; i++) weights[i] = (weights[i] ?? 0n) * pivot;
      weights[column] = -sum;
    }
    const by = weights.reduce((a, b) => gcd(a, b), 0n);
    const small = weights.map((weight) => weight / by);
    return { weights: small, modulus: 0n, rest: dot(small, offset.map(BigInt)) };
  }
}

function reduced(weights: bigint[], modulus: bigint, offset: Vector): LatticeProof {
  const by = [...weights, modulus].reduce((a, b) => gcd(a, b), 0n);
  const m = modulus / by;
  const small = weights.map((weight) => mod(weight / by, m));
  return { weights: small, modulus: m, rest: mod(dot(small, offset.map(BigInt)), m) };
}

function mod(value: bigint, m: bigint): bigint {
  return ((value % m) + m) % m;
}

function dot(a: readonly bigint[], b: readonly bigint[]): bigint {
  return a.reduce((sum, value, i) => sum + value * (b[i] ?? 0n), 0n);
}

function subtract(from: bigint[], row: readonly bigint[], times: bigint): void {
  for (let i = 0; i < from.length; i++) from[i] = (from[i] ?? 0n) - times * (row[i] ?? 0n);
}

function size(value: bigint | undefined): bigint {
  return value === undefined ? 0n : value < 0n ? -value : value;
}

function gcd(a: bigint, b: bigint): bigint {
  let [x, y] = [size(a), size(b)];
  while (y !== 0n) [x, y] = [y, x % y];
  return x;
}
