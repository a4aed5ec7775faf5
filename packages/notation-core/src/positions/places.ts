/** The place that nobody knows: the log is silent. */
export const UNKNOWN = -1;

/** How a character came to a place: the place before, and the row or rule that led on. */
export interface Trail {
  readonly before: Trail | undefined;
  readonly place: number;
  /** Sightings of the row that led here; Infinity where no row was needed. */
  readonly sightings: number;
  readonly via: string;
}

/** A set of places with a trail to each; small ones without a hash. */
export class Places {
  readonly list: number[] = [];
  readonly trails: (Trail | undefined)[] = [];
  private index: Map<number, number> | undefined;

  get size(): number {
    return this.list.length;
  }

  add(place: number, trail: Trail | undefined): void {
    if (this.has(place)) return;
    this.index?.set(place, this.list.length);
    this.list.push(place);
    this.trails.push(trail);
    if (this.index === undefined && this.list.length > 12) {
      this.index = new Map(this.list.map((each, i) => [each, i]));
    }
  }

  has(place: number): boolean {
    return this.index === undefined ? this.list.includes(place) : this.index.has(place);
  }

  /** Empty again, for another use; small arrays keep their room. */
  reset(): void {
    if (this.list.length > 4) this.list.length = 4;
    while (this.list.length > 0) this.list.pop();
    if (this.trails.length > 4) this.trails.length = 4;
    while (this.trails.length > 0) this.trails.pop();
    this.index = undefined;
  }

  trail(place: number): Trail | undefined {
    return this.trails[this.index?.get(place) ?? this.list.indexOf(place)];
  }
}

/** Sets of places by how many tokens ahead they are; rows over several items reach ahead. */
export type Front = (Places | undefined)[];
