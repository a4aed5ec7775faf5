import type { Span } from './span.js';
import type { TextEdit } from './edit.js';

export type Severity = 'error' | 'warning' | 'note';

/** `safe`: the input is the same; `changes-timing`: the table differs; `suggestion`: one of several ways. */
export type FixSafety = 'safe' | 'changes-timing' | 'suggestion';

/** A change that mends a finding. Edits are in the file of the finding, offsets of the whole file. */
export interface Fix {
  readonly title: string;
  readonly safety: FixSafety;
  readonly edits: readonly TextEdit[];
}

/** Another place that belongs to a finding, with a few words. */
export interface Related {
  readonly file: string;
  readonly span: Span;
  readonly words: string;
}

export type Params = Readonly<Record<string, string | number | boolean>>;

/**
 * One report of one rule at one place: data only. The words are made from `rule` and
 * `params` by the rule's own file, so that every surface says the same.
 */
export interface Finding {
  readonly rule: string;
  readonly severity: Severity;
  readonly file: string;
  readonly span: Span;
  readonly params: Params;
  readonly fixes: readonly Fix[];
  readonly related: readonly Related[];
}
