import type { Costed } from './costs.js';
import type { Log } from './log.js';
import type { OnRoute } from './remaining.js';

/** A spot with the moves of its menu. */
export interface Place {
  readonly id: number;
  readonly name: string;
  readonly paused: boolean;
  readonly moves: readonly Costed[];
  readonly on: OnRoute | undefined;
}

/** What a move can save at most, in ticks: it leads to the end of the route at once. */
export function savesOf({ on }: Place, each: Costed, log: Log): number | undefined {
  if (on === undefined) return undefined;
  const insidePause = on.goal !== undefined && log.paused[on.goal] === true;
  return on.ticks - (insidePause ? each.ticksOpen : each.ticks);
}

/**
 * Places and moves, the most promising first: what can save, by how much at most; then spots off
 * every route, of which nothing is known; then what cannot save. A queue holds the next move of
 * each place, so that a large log is never sorted whole.
 */
export function* inOrder(places: readonly Place[], log: Log): Generator<[Place, Costed], void> {
  const queue = new Queue();
  const off: Place[] = [];
  places.forEach((place, order) => {
    if (place.on === undefined) off.push(place);
    else {
      const moves = [...place.moves].sort(
        (a, b) => (savesOf(place, b, log) ?? 0) - (savesOf(place, a, log) ?? 0),
      );
      queue.push({ place, order, moves, at: 0, saves: bestOf(place, moves[0], log) });
    }
  });
  let waiting: readonly Place[] = off;
  for (let head = queue.pop(); head !== undefined; head = queue.pop()) {
    if (head.saves <= 0) {
      for (const place of waiting) for (const move of place.moves) yield [place, move];
      waiting = [];
    }
    const move = head.moves[head.at++];
    if (move === undefined) continue;
    yield [head.place, move];
    head.saves = bestOf(head.place, head.moves[head.at], log);
    if (head.at < head.moves.length) queue.push(head);
  }
  for (const place of waiting) for (const move of place.moves) yield [place, move];
}

function bestOf(place: Place, move: Costed | undefined, log: Log): number {
  return move === undefined ? -Infinity : (savesOf(place, move, log) ?? 0);
}

interface Head {
  readonly place: Place;
  readonly order: number;
  readonly moves: readonly Costed[];
  at: number;
  saves: number;
}

/** A binary heap: the greatest saving first, the first spot among equals. */
class Queue {
  private readonly heads: Head[] = [];

  push(head: Head): void {
    const { heads } = this;
    let at = heads.push(head) - 1;
    while (at > 0) {
      const up = (at - 1) >> 1;
      const parent = heads[up];
      if (parent === undefined || !before(head, parent)) break;
      heads[at] = parent;
      at = up;
    }
    heads[at] = head;
  }

  pop(): Head | undefined {
    const { heads } = this;
    const top = heads[0];
    const last = heads.pop();
    if (last === undefined || heads.length === 0) return top;
    let at = 0;
    for (;;) {
      let down = 2 * at + 1;
      const left = heads[down];
      if (left === undefined) break;
      const right = heads[down + 1];
      if (right !== undefined && before(right, left)) down++;
      const child = heads[down] ?? left;
      if (!before(child, last)) break;
      heads[at] = child;
      at = down;
    }
    heads[at] = last;
    return top;
  }
}

function before(a: Head, b: Head): boolean {
  return a.saves > b.saves || (a.saves === b.saves && a.order < b.order);
}
