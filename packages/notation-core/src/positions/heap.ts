/**
 * A binary heap of numbers by key, the least first; of equal keys the one with the least
 * second key, so that a search that puts depth there goes straight on.
 */
export class Heap {
  private readonly values: number[] = [];
  private readonly keys: number[] = [];
  private readonly ties: number[] = [];
  /** The key of what was popped last. */
  lastKey = 0;

  get size(): number {
    return this.values.length;
  }

  /** The least key, or Infinity. */
  get least(): number {
    return this.keys[0] ?? Infinity;
  }

  push(value: number, key: number, tie = 0): void {
    const { values, keys, ties } = this;
    let at = values.length;
    values.push(value);
    keys.push(key);
    ties.push(tie);
    while (at > 0) {
      const up = (at - 1) >> 1;
      if (!this.isLess(key, tie, up)) break;
      this.move(up, at);
      at = up;
    }
    values[at] = value;
    keys[at] = key;
    ties[at] = tie;
  }

  /** Takes the least; -1 where there is none. */
  pop(): number {
    const { values, keys, ties } = this;
    const top = values[0];
    if (top === undefined) return -1;
    this.lastKey = keys[0] ?? 0;
    const value = values.pop() ?? 0;
    const key = keys.pop() ?? 0;
    const tie = ties.pop() ?? 0;
    const size = values.length;
    if (size === 0) return top;
    let at = 0;
    for (;;) {
      let down = 2 * at + 1;
      if (down >= size) break;
      if (down + 1 < size && this.isLess(keys[down + 1] ?? 0, ties[down + 1] ?? 0, down)) down++;
      if (this.isLess(key, tie, down)) break;
      this.move(down, at);
      at = down;
    }
    values[at] = value;
    keys[at] = key;
    ties[at] = tie;
    return top;
  }

  private isLess(key: number, tie: number, than: number): boolean {
    const other = this.keys[than] ?? 0;
    return key < other || (key === other && tie < (this.ties[than] ?? 0));
  }

  private move(from: number, to: number): void {
    this.values[to] = this.values[from] ?? 0;
    this.keys[to] = this.keys[from] ?? 0;
    this.ties[to] = this.ties[from] ?? 0;
  }
}
