import type { LineIndex } from '../../text/lines.js';
import { version } from '../version.js';
import { type Checked, type Shown, count, regionOf } from './shown.js';

/** Raised where a reader of the last form would go wrong; new properties do not raise it. */
const FORM = 1;

/** Findings as one JSON object, described by `schema/findings.schema.json`. */
export function jsonText(checked: Checked): string {
  const { files, findings, unchecked } = checked;
  const report = {
    form: FORM,
    tiptoe: version,
    files,
    findings: findings.map((shown) => findingJson(shown, checked)),
    unchecked,
    summary: { files: files.length, ...count(findings) },
  };
  return JSON.stringify(report, null, 2) + '\n';
}

function findingJson({ finding, message, lines }: Shown, checked: Checked) {
  return {
    rule: finding.rule,
    severity: finding.severity,
    file: finding.file,
    ...place(lines, finding.span),
    title: message.title,
    reason: message.reason,
    wayOut: message.wayOut,
    params: finding.params,
    fixes: finding.fixes.map(({ title, safety, edits }) => ({
      title,
      safety,
      edits: edits.map(({ span, text }) => ({ ...place(lines, span), text })),
    })),
    related: finding.related.map(({ file, span, words }) => ({
      file,
      ...place(checked.linesOf(file), span),
      words,
    })),
  };
}

/** Offsets from 0 in UTF-16 units of the text without a byte-order mark; lines and columns from 1. */
function place(
  lines: LineIndex | undefined,
  span: { readonly start: number; readonly end: number },
) {
  const offsets = { start: span.start, end: span.end };
  if (lines === undefined) return offsets;
  const { start, end } = regionOf(lines, span);
  return {
    ...offsets,
    line: start.line,
    column: start.column,
    endLine: end.line,
    endColumn: end.column,
  };
}
