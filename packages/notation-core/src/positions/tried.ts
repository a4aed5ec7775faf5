import type { Costed } from './costs.js';
import type { Grounds } from './ground.js';
import type { Log } from './log.js';

/** How many moves of so many frames were tried from a spot. */
export interface Tried {
  readonly frames: number;
  /** Moves of the menu. */
  readonly of: number;
  /** Moves that are a row of the log. */
  readonly tried: number;
  /** Moves that were not tried, and that open ground answers for. */
  readonly known: number;
}

/** In the log; not there, but answered by open ground; or neither. */
export type Known = 'tried' | 'ground' | 'gap';

/** Asks whether a move was tried from a spot. */
export function probe(log: Log, grounds: Grounds): (spot: number, move: Costed) => Known {
  const { tokens } = log;
  const waits = tokens.neutral.flatMap((frames, token) => (frames >= 0 ? [token] : []));
  // A row may write out the wait behind the move: it is the same move.
  const logged = (node: number): boolean =>
    node >= 0 &&
    (log.outcomes[node] !== undefined || waits.some((wait) => logged(log.child(node, wait))));
  return (spot, { ids }) => {
    let node = log.root(spot);
    let open = -1;
    for (const id of ids) {
      // Rows that stay inside the pause end in front of its last bracket.
      open = id === tokens.close ? node : -1;
      if (node >= 0) node = log.child(node, id);
    }
    if (logged(node) || logged(open)) return 'tried';
    const landing = grounds.move(
      spot,
      (ahead) => ids[ahead] ?? -1,
      (move) => move.ids.length === ids.length,
    );
    return landing === undefined || landing.off ? 'gap' : 'ground';
  };
}

/** Counts a menu by frames. */
export function countsOf(
  place: { readonly id: number; readonly moves: readonly Costed[] },
  isOpen: (spot: number, move: Costed) => Known,
): Tried[] {
  const counts = new Map<number, { frames: number; of: number; tried: number; known: number }>();
  for (const each of place.moves) {
    const { frames } = each.move;
    let count = counts.get(frames);
    if (count === undefined) counts.set(frames, (count = { frames, of: 0, tried: 0, known: 0 }));
    const known = isOpen(place.id, each);
    count.of++;
    if (known === 'tried') count.tried++;
    else if (known === 'ground') count.known++;
  }
  return [...counts.values()].sort((a, b) => a.frames - b.frames);
}
