/**
 * The public face of the core: whatever is exported here is the package's promise. It runs
 * wherever modules run; files, terminals and editors are the business of those who call it.
 */
export { parse, reparse } from './syntax/parse.js';
export { format, formatEdits } from './syntax/print.js';
export type * from './syntax/tree.js';

export { applyEdits, type TextEdit } from './text/edit.js';
export type { Finding, Fix, FixSafety, Params, Related, Severity } from './text/finding.js';
export { type Fraction, fraction, parseDecimal, toDecimal, toNumber } from './text/fraction.js';
export { LineIndex, type Position } from './text/lines.js';
export type { Span } from './text/span.js';

export type { Game, Input, Pace, PauseTiming } from './model/game.js';
export {
  loadProgram,
  type Program,
  programOf,
  type Reader,
  type SourceFile,
} from './model/program.js';
export { type Choices, Resolver } from './model/resolve.js';
export { type Declared, type Scope, scopeOf } from './model/scope.js';
export type { Sequence, Step } from './model/steps.js';

export { buildTimeline } from './timeline/build.js';
export type { TooLong } from './timeline/types.js';
export { tickTime, timeFormatter } from './timeline/clock.js';
export { label, labeller, tickOf, timecodeOf } from './timeline/timecode.js';
export type { Run, Timeline } from './timeline/types.js';

export { type Nominal, nominalRoute } from './positions/nominal.js';
export { type RouteTrace, traceRoute, type TraceStep } from './positions/trace.js';

export { checkFile, checkProgram, type CheckResult } from './rules/check.js';
export { applyFixes } from './rules/fixes.js';
export { describe, type RuleName, RULES } from './rules/registry.js';
export { DEFAULT_SETTINGS, readSettings, type Settings } from './rules/settings.js';

export { mapDot } from './publish/map/dot.js';
export { spotMap, type SpotMap } from './publish/map/graph.js';
export { mapSvg } from './publish/map/svg.js';
