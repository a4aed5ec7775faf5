import type { Span } from '../../text/span.js';

export type CompletionKind =
  | 'input'
  | 'move'
  | 'phrase'
  | 'spot'
  | 'route'
  | 'rule'
  | 'word'
  | 'setting'
  | 'path'
  | 'form'
  | 'value';

/** What could be written at a place. They come in the order in which they should be shown. */
export interface Completion {
  readonly label: string;
  readonly kind: CompletionKind;
  /** A few words beside it: a landing, what an input is. */
  readonly detail: string;
  /** The text to put in the place of `span`, and whether it has places to fill in (`${1:…}`). */
  readonly insert: string;
  readonly snippet: boolean;
  /** What it replaces, in the file. */
  readonly span: Span;
  /** What to resolve it by. */
  readonly name: string;
}

/** A completion before its place is known; `rank` puts the likelier first. */
export interface Candidate {
  readonly label: string;
  readonly kind: CompletionKind;
  readonly rank: number;
  readonly detail?: string;
  readonly insert?: string;
  readonly snippet?: boolean;
  readonly name?: string;
}

/** Takes candidates in any order. */
export type Offer = (candidate: Candidate) => void;
