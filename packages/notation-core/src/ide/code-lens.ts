import type { Severity } from '../text/finding.js';
import type { Span } from '../text/span.js';
import { tickTime } from '../timeline/clock.js';
import { type Fraction } from '../text/fraction.js';
import type { Analysis } from './analysis.js';
import { pointAt } from './items-at.js';
import { routeFacts } from './route-facts.js';
import { many, seconds } from './words.js';

/** Where a line of facts about a route stands. */
export interface CodeLens {
  /** The name of the route. */
  readonly span: Span;
  readonly route: string;
}

/** The facts of one route; ticks, frames and seconds are undefined where it is too long. */
export interface LensFacts {
  readonly ticks: number | undefined;
  readonly frames: number | undefined;
  /** Exact. */
  readonly seconds: Fraction | undefined;
  readonly findings: Readonly<Record<Severity, number>>;
  /** `58 ticks, 40 frames, 1.16 s; 1 error`. */
  readonly title: string;
}

/** The routes of a file. What is said of them is worked out by `lensFacts`, for those on screen. */
export function codeLenses(analysis: Analysis, path: string): readonly CodeLens[] {
  const lenses: CodeLens[] = [];
  for (const { unit, start } of analysis.file(path)?.tree.units ?? []) {
    const { declaration } = unit;
    if (declaration.kind !== 'route' || declaration.name === undefined) continue;
    const { name, start: from, end } = declaration.name;
    lenses.push({ span: { start: start + from, end: start + end }, route: name });
  }
  return lenses;
}

/** Code lens: how long a route is, nominally, and what the checker has to say of it. */
export function lensFacts(analysis: Analysis, path: string, offset: number): LensFacts | undefined {
  const point = pointAt(analysis, path, offset);
  if (point?.unit.declaration.kind !== 'route') return undefined;
  const { file, scope, unit, start } = point;
  const { timeline } = routeFacts(scope, unit, point.unit.declaration);
  const findings: Record<Severity, number> = { error: 0, warning: 0, note: 0 };
  const end = start + unit.text.length;
  for (const { span, severity } of analysis.findings(file)) {
    if (span.start >= start && span.start < end) findings[severity]++;
  }
  const counts = (['error', 'warning', 'note'] as const).filter((each) => findings[each] > 0);
  const said = counts.map((each) => many(findings[each], each)).join(', ');
  const after = said === '' ? '' : `; ${said}`;
  if ('tooLong' in timeline) {
    const title = `longer than can be counted${after}`;
    return { ticks: undefined, frames: undefined, seconds: undefined, findings, title };
  }
  const { ticks, frames } = timeline;
  const length = `${many(ticks, 'tick')}, ${many(frames, 'frame')}, ${seconds(ticks, scope.game)}`;
  return {
    ticks,
    frames,
    seconds: tickTime(ticks, scope.game.clock),
    findings,
    title: length + after,
  };
}
