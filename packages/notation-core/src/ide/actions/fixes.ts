import { losesComment } from '../../rules/fixes.js';
import type { Finding } from '../../text/finding.js';
import type { Point } from '../items-at.js';
import type { Put } from './types.js';

const SAYS = { safe: '', 'changes-timing': ' (changes timing)', suggestion: '' } as const;

/** Every fix of a finding, with how safe it is; none that takes a comment away. */
export function putFixes({ unit, start }: Point, findings: readonly Finding[], put: Put): void {
  const comments = unit.comments.map((each) => ({
    start: start + each.start,
    end: start + each.end,
  }));
  for (const finding of findings) {
    for (const fix of finding.fixes) {
      if (losesComment(fix, comments)) continue;
      const { title, safety, edits } = fix;
      put({ title: title + SAYS[safety], kind: 'fix', safety, edits, finding });
    }
  }
}
