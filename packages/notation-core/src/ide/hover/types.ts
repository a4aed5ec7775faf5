import type { Span } from '../../text/span.js';

/** What is said of a place in the text. */
export interface Hover {
  /** What it is about. */
  readonly span: Span;
  /** Markdown. */
  readonly text: string;
}

/** What one provider says; its span counts from the start of the unit. */
export type UnitHover = Hover | undefined;
