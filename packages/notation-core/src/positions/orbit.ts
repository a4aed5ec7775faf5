/** Where repeating leads: the places before the cycle, and the cycle. Empty where it is lost. */
export interface Orbit {
  readonly tail: readonly number[];
  readonly cycle: readonly number[];
}

/**
 * The `times`-th successor, at the cost of tail and cycle only: each state is remembered at
 * its first visit, and what is left of `times` is taken modulo the cycle. Undefined where a
 * state has not exactly one successor.
 */
export function orbit<S>(
  from: S,
  next: (state: S) => S | undefined,
  key: (state: S) => number,
  times: number,
): S | undefined {
  const at = new Map<number, number>();
  const course: S[] = [];
  let state = from;
  for (let i = 0; i < times; i++) {
    const first = at.get(key(state));
    if (first !== undefined) return course[first + ((times - first) % (i - first))];
    at.set(key(state), i);
    course.push(state);
    const to = next(state);
    if (to === undefined) return undefined;
    state = to;
  }
  return state;
}
