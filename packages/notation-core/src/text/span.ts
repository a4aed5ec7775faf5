/** A half-open stretch of text: UTF-16 offsets from `start` up to, not including, `end`. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

export function span(start: number, end: number): Span {
  return { start, end };
}

/** The same stretch seen from a text that holds this one `by` units further on. */
export function shifted(s: Span, by: number): Span {
  return { start: s.start + by, end: s.end + by };
}

export function covers(outer: Span, inner: Span): boolean {
  return outer.start <= inner.start && inner.end <= outer.end;
}
