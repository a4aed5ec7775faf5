import type { Finding, FixSafety } from '../../text/finding.js';
import type { Span } from '../../text/span.js';
import type { TextEdit } from '../../text/edit.js';

export type ActionKind = 'fix' | 'silence' | 'row' | 'extract' | 'inline' | 'rewrite';

/** A change that can be had at a place. */
export interface CodeAction {
  readonly title: string;
  readonly kind: ActionKind;
  /** `safe` leaves the input on every tick as it is. */
  readonly safety: FixSafety;
  /** The file that is changed, and how; all edits are to its text as it is. */
  readonly path: string;
  readonly edits: readonly TextEdit[];
  /** A stretch of the text after the edits that is still to be written: a name, a reason. */
  readonly placeholder: Span | undefined;
  /** What it mends. */
  readonly finding: Finding | undefined;
}

/** Takes an action; what is left out is nothing. */
export type Put = (
  action: Pick<CodeAction, 'title' | 'kind' | 'safety' | 'edits'> & Partial<CodeAction>,
) => void;
