import { RULES } from '../../rules/registry.js';
import { isFixed } from '../../rules/settings.js';
import type { Finding } from '../../text/finding.js';
import type { Point } from '../items-at.js';
import type { Offer } from './types.js';

/** Silences say why a silence is not heard; none takes them back. */
const OF_SILENCES = new Set(['silence-form', 'silence-without-reason', 'unused-silence']);

/** The beginning of the word at the place, in a comment, which may hold `-`. */
export function ruleWord({ unit, at }: Point): string {
  return /[a-z-]*$/.exec(unit.text.slice(Math.max(0, at - 100), at))?.[0] ?? '';
}

/** In a silence the rules, those first that have something to say on its line; else its beginning. */
export function offerInComment(point: Point, offer: Offer): void {
  const { unit, at } = point;
  const comment = unit.comments.find(({ start, end }) => start < at && at <= end);
  if (comment === undefined) return;
  const written = unit.text.slice(comment.start, at);
  if (/^#\s*[a-z:]*$/.test(written) && 'tiptoe:'.startsWith(written.replace(/^#\s*/, ''))) {
    const insert = 'tiptoe: allow ${1:rule} because ${2:reason}';
    offer({ label: 'tiptoe: allow', kind: 'form', rank: 0, insert, snippet: true, detail: 'silence a rule' }); // prettier-ignore
    return;
  }
  if (!/^#\s*tiptoe:\s*allow\s+([a-z-]+\s*,\s*)*[a-z-]*$/.test(written)) return;
  const said = new Map(findingsNear(point).map(({ rule }) => [rule, 0]));
  for (const { name, title } of RULES) {
    if (OF_SILENCES.has(name) || isFixed(name)) continue;
    offer({ label: name, kind: 'rule', rank: said.get(name) ?? 1, detail: title });
  }
}

/** Findings of the line that the silence is on, or of the lines behind it. */
function findingsNear({ analysis, file, start, at, unit }: Point): readonly Finding[] {
  const { text } = unit;
  const from = Math.max(text.lastIndexOf('\n', at - 1), text.lastIndexOf('\r', at - 1)) + 1;
  const alone = /^\s*#/.test(text.slice(from, at));
  const ends = /\r\n|\n|\r/.exec(text.slice(at));
  let to = ends === null ? text.length : at + ends.index;
  // A comment alone on its line is for the next line that is none.
  const rest = alone ? /^(?:\s*#[^\r\n]*|\s)*[^\r\n]*/.exec(text.slice(to)) : null;
  to += rest?.[0].length ?? 0;
  return analysis
    .findings(file)
    .filter(({ span }) => start + from <= span.start && span.start <= start + to);
}
