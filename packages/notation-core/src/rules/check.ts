import type { Program, SourceFile } from '../model/program.js';
import { collector, type ModelProblem } from '../model/problems.js';
import { scopeOf } from '../model/scope.js';
import type { Unit } from '../syntax/tree.js';
import type { Finding, Fix, Related, Severity } from '../text/finding.js';
import { LIMITS } from '../text/limits.js';
import { Memo } from '../text/memo.js';
import { checkGames } from './checks/uses.js';
import { Keys } from './keys.js';
import { DEFAULT_LIMITS, type Limits } from './limits.js';
import { isRuleName, ruleNamed, RULES, severityOf } from './registry.js';
import type { FileContext, LocalFix, Rule } from './rule.js';
import { applySilences } from './silences/apply.js';
import { DEFAULT_SETTINGS, type Settings } from './settings.js';
import { type RawFinding, UnitChecker } from './unit-check.js';

/** The findings of the files that were asked for, in the order in which they were named. */
export interface CheckResult {
  /** Of all files: by file, then by place. */
  readonly findings: readonly Finding[];
  readonly files: ReadonlyMap<string, readonly Finding[]>;
}

/**
 * Checks every entry of a program. Files that are only used are not reported on: their own check
 * does that. What cannot be read is in `program.unreadable` and no finding.
 */
export function checkProgram(program: Program, settings: Settings = DEFAULT_SETTINGS): CheckResult {
  const files = new Map<string, readonly Finding[]>();
  for (const path of program.entries) {
    const file = program.files.get(path);
    if (file !== undefined) files.set(path, checkFile(program, file, settings));
  }
  return { findings: [...files.values()].flat(), files };
}

/** A finding with its unit and its place in the file, before it is made in full. */
interface Found extends RawFinding {
  readonly unit: Unit;
  /** Where the unit begins in the file. */
  readonly offset: number;
}

/** The findings of one file, sorted by place. */
export function checkFile(
  program: Program,
  file: SourceFile,
  settings: Settings = DEFAULT_SETTINGS,
  checker: UnitChecker = checkerOf(program, file, settings.limits),
): readonly Finding[] {
  return findingsIn(program, file, settings, checker, (other) =>
    errorsIn(program, other, settings),
  );
}

const known = new Memo<Program, Map<SourceFile, number>>();

/** The errors of a file that is only used; what it uses itself is not asked again. */
function errorsIn(program: Program, file: SourceFile, settings: Settings): number {
  const counts = known.get(program) ?? new Map<SourceFile, number>();
  known.set(program, counts);
  let count = counts.get(file);
  if (count === undefined) {
    const checker = checkerOf(program, file, settings.limits);
    const findings = findingsIn(program, file, settings, checker, () => 0);
    count = findings.filter(({ severity }) => severity === 'error').length;
    counts.set(file, count);
  }
  return count;
}

function findingsIn(
  program: Program,
  file: SourceFile,
  settings: Settings,
  checker: UnitChecker,
  errorsOf: (file: SourceFile) => number,
): readonly Finding[] {
  const { scope } = checker;
  const found: Found[] = [];
  const inside = new Keys();
  const keep = (raw: RawFinding, unit: Unit, offset: number): void => {
    if (settings.rules.get(raw.rule) === 'off') return;
    if (raw.inside !== undefined) {
      if (checker.saidElsewhere(raw.rule, raw.inside) === true) return;
      if (!inside.add(raw.rule, offset + raw.start, offset + raw.end)) return;
    }
    const { rule, start, end, params, fixes, inside: within } = raw;
    found.push({ rule, start, end, params, fixes, inside: within, unit, offset });
  };
  for (const { unit, start } of file.tree.units) {
    for (const raw of checker.check(unit)) keep(raw, unit, start);
  }
  const starts = new Map(file.tree.units.map(({ unit, start }) => [unit, start]));
  for (const { unit, ...raw } of ofFile({ program, file, scope, errorsIn: errorsOf })) {
    keep(raw, unit, starts.get(unit) ?? 0);
  }
  const severity = (rule: string): Severity => {
    const set = settings.rules.get(rule);
    return set === undefined || set === 'off' ? severityOf(rule) : set;
  };
  const { kept, ofSilences } = applySilences(file, found, settings);
  const made = capped(kept.sort(byPlace), file, severity).map((each): Finding => {
    const { rule, offset, params } = each;
    return {
      rule,
      severity: severity(rule),
      file: file.path,
      span: { start: offset + each.start, end: offset + each.end },
      params,
      fixes: fixesOf(each).map((fix) => shiftFix(fix, offset)),
      related: relatedOf(each, program),
    };
  });
  if (ofSilences.length === 0) return made;
  return [...made, ...ofSilences].sort(
    (a, b) => a.span.start - b.span.start || a.span.end - b.span.end,
  );
}

/** Checks single declarations of a file; kept by whoever checks the file again and again. */
export function checkerOf(
  program: Program,
  file: SourceFile,
  limits: Limits = DEFAULT_LIMITS,
): UnitChecker {
  return new UnitChecker(scopeOf(program, file), limits);
}

function ofFile(context: FileContext): (RawFinding & { unit: Unit })[] {
  const { program, file, scope } = context;
  const problems: ModelProblem[] = [...file.problems, ...scope.duplicates];
  checkGames(program, scope, collector(problems));
  const found = problems.map(({ code, unit, start, end, params }): RawFinding & { unit: Unit } => ({
    ...NOTHING_ELSE, rule: code, unit, start, end, params: params,
  })); // prettier-ignore
  for (const rule of RULES as readonly Rule[]) {
    rule.check?.file?.(context, (at, params, fixes) => {
      const { unit, start, end } = at;
      found.push({ ...NOTHING_ELSE, rule: rule.name, unit, start, end, params, fixes });
    });
  }
  return found;
}

const NOTHING_ELSE: Pick<RawFinding, 'fixes' | 'inside'> = { fixes: undefined, inside: undefined };

function fixesOf(found: Found): readonly LocalFix[] {
  if (found.fixes !== undefined) return found.fixes();
  if (found.inside !== undefined || !isRuleName(found.rule)) return [];
  const rule: Rule = ruleNamed(found.rule);
  return rule.fixes?.(found, found.params) ?? [];
}

function shiftFix(fix: LocalFix, offset: number): Fix {
  return {
    title: fix.title,
    safety: fix.safety,
    edits: fix.edits.map(({ start, end, text }) => ({
      span: { start: offset + start, end: offset + end },
      text,
    })),
  };
}

function relatedOf({ inside }: Found, program: Program): readonly Related[] {
  if (inside === undefined) return [];
  for (const { path, tree } of program.files.values()) {
    const placed = tree.units.find(({ unit }) => unit === inside.unit);
    if (placed === undefined) continue;
    const span = { start: placed.start + inside.start, end: placed.start + inside.end };
    return [{ file: path, span, words: 'here, inside the phrase' }];
  }
  return [];
}

function byPlace(a: Found, b: Found): number {
  const start = a.offset + a.start - (b.offset + b.start);
  if (start !== 0) return start;
  return a.offset + a.end - (b.offset + b.end) || (a.rule < b.rule ? -1 : 1);
}

const WEIGHT: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2 };

/** No more findings of one declaration than anybody reads: the gravest stay, the rest is counted. */
function capped(
  findings: readonly Found[],
  file: SourceFile,
  severity: (rule: string) => Severity,
): readonly Found[] {
  const listed = LIMITS.problemsPerDeclaration;
  if (findings.length <= listed) return findings;
  const kept: Found[] = [];
  let at = 0;
  for (const { start } of file.tree.units) {
    const from = at;
    while (findings[at]?.offset === start) at++;
    if (at - from <= listed) {
      kept.push(...findings.slice(from, at));
      continue;
    }
    const weigh = ({ rule }: Found): number => WEIGHT[severity(rule)];
    const grave = findings.slice(from, at).sort((a, b) => weigh(a) - weigh(b));
    const chosen = grave.slice(0, listed).sort(byPlace);
    kept.push(...chosen);
    const [rest] = grave.slice(listed);
    if (rest === undefined || chosen.some(({ rule }) => rule === 'more-problems')) continue;
    kept.push({ ...rest, ...NOTHING_ELSE, rule: 'more-problems', params: { listed } });
  }
  return kept;
}
