/** Places of findings by rule. Two numbers make one key: a file is far smaller than 2^26 characters. */
export class Keys {
  private readonly byRule = new Map<string, Set<number>>();

  has(rule: string, start: number, end: number): boolean {
    return this.byRule.get(rule)?.has(start * SIZE + end) === true;
  }

  /** Whether it is new. */
  add(rule: string, start: number, end: number): boolean {
    let places = this.byRule.get(rule);
    if (places === undefined) {
      places = new Set();
      this.byRule.set(rule, places);
    }
    const { size } = places;
    places.add(start * SIZE + end);
    return places.size > size;
  }
}

const SIZE = 2 ** 26;
