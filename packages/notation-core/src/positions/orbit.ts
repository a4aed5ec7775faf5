/** Where repeating leads: how many times until the cycle is entered, and the cycle from there on. */
export interface Orbit<S> {
  readonly tail: number;
  readonly cycle: readonly S[];
}

/** One step of a map; undefined where it is not known. */
export type Next<S> = (state: S) => S | undefined;
export type Key<S> = (state: S) => number;

/**
 * The orbit of each state, undefined where it leaves what is known. Every state is visited
 * once, however many of the orbits share it: linear in what is reached, where one walk for
 * each state would be quadratic. Orbits that end in one cycle begin it at their own entry
 * only where they found it; otherwise they share the list.
 */
export function orbits<S>(
  from: readonly S[],
  next: Next<S>,
  key: Key<S>,
): (Orbit<S> | undefined)[] {
  const known = new Map<number, Orbit<S> | undefined>();
  return from.map((state) => {
    walk(state, next, key, known);
    return known.get(key(state));
  });
}

function walk<S>(
  from: S,
  next: Next<S>,
  key: Key<S>,
  known: Map<number, Orbit<S> | undefined>,
): void {
  const at = new Map<number, number>();
  const course: S[] = [];
  let state: S | undefined = from;
  while (state !== undefined && !known.has(key(state)) && !at.has(key(state))) {
    at.set(key(state), course.length);
    course.push(state);
    state = next(state);
  }
  let end = course.length;
  let found = state === undefined ? undefined : known.get(key(state));
  const entry = state === undefined ? undefined : at.get(key(state));
  if (entry !== undefined) {
    end = entry;
    found = { tail: 0, cycle: course.slice(entry) };
    for (const each of found.cycle) known.set(key(each), found);
  }
  for (let i = end - 1; i >= 0; i--) {
    const each = course[i];
    if (found !== undefined) found = { tail: found.tail + 1, cycle: found.cycle };
    if (each !== undefined) known.set(key(each), found);
  }
}

/**
 * Each state's successor after `times` steps, for any number of times: the states that are
 * reached are numbered, and the map between them is squared again and again. Undefined where
 * a state on the way has no single successor.
 */
export function successors<S>(
  from: readonly S[],
  next: Next<S>,
  key: Key<S>,
  times: number,
): S[] | undefined {
  const numbers = new Map<number, number>();
  const states: S[] = [];
  const to: number[] = [];
  const numberOf = (state: S): number => {
    const known = numbers.get(key(state));
    if (known !== undefined) return known;
    numbers.set(key(state), states.length);
    states.push(state);
    return states.length - 1;
  };
  const now = from.map(numberOf);
  // States are found in the order of their distance; those `times` steps off need no successor.
  let level = 0;
  let last = states.length;
  for (let i = 0; i < states.length; i++) {
    if (i === last) {
      level++;
      last = states.length;
    }
    if (level >= times) break;
    const state = states[i];
    const successor = state === undefined ? undefined : next(state);
    if (successor === undefined) return undefined;
    to.push(numberOf(successor));
  }
  let jump = Int32Array.from(states, (_, i) => to[i] ?? i);
  for (let left = times; left > 0; left = Math.floor(left / 2)) {
    if (left % 2 === 1) for (let i = 0; i < now.length; i++) now[i] = jump[now[i] ?? 0] ?? 0;
    const twice = new Int32Array(jump.length);
    for (let i = 0; i < jump.length; i++) twice[i] = jump[jump[i] ?? 0] ?? 0;
    jump = twice;
  }
  return now.flatMap((i) => states.slice(i, i + 1));
}
