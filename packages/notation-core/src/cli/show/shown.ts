import type { Message } from '../../rules/rule.js';
import type { Finding } from '../../text/finding.js';
import type { LineIndex, Position } from '../../text/lines.js';

/** A finding with its words, and the lines of its file. */
export interface Shown {
  readonly finding: Finding;
  readonly message: Message;
  readonly lines: LineIndex;
}

/** A file that could not be checked. */
export interface Unchecked {
  readonly path: string;
  readonly reason: string;
}

/** One check of some notes, ready to be shown in any form. */
export interface Checked {
  /** The notes that were checked, in order. */
  readonly files: readonly string[];
  readonly findings: readonly Shown[];
  readonly unchecked: readonly Unchecked[];
  /** How many findings were mended before this check. */
  readonly mended?: number;
  /** The lines of any file of the program, for places that a finding relates to. */
  linesOf(path: string): LineIndex | undefined;
}

export interface Region {
  readonly start: Position;
  readonly end: Position;
}

/** Lines and columns of a span, from 1; `end` is the place after its last character. */
export function regionOf(
  lines: LineIndex,
  span: { readonly start: number; readonly end: number },
): Region {
  return { start: lines.positionAt(span.start), end: lines.positionAt(span.end) };
}

export interface Counts {
  readonly errors: number;
  readonly warnings: number;
  readonly notes: number;
}

export function count(findings: readonly Shown[]): Counts {
  const of = (severity: string) =>
    findings.filter(({ finding }) => finding.severity === severity).length;
  return { errors: of('error'), warnings: of('warning'), notes: of('note') };
}
