import type { Program, SourceFile } from '../model/program.js';
import { collector, type ModelProblem } from '../model/problems.js';
import { filesInScopeHaveGame, type Scope, scopeOf } from '../model/scope.js';
import type { Unit } from '../syntax/tree.js';
import type { Finding, Fix, Related, Severity } from '../text/finding.js';
import { LIMITS } from '../text/limits.js';
import { checkGames } from './checks/uses.js';
import { DEFAULT_LIMITS, type Limits } from './limits.js';
import { isRuleName, ruleNamed, RULES, severityOf } from './registry.js';
import type { LocalFix, Rule } from './rule.js';
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

/** A finding with its unit, before its place in the file is known. */
interface Found extends RawFinding {
  readonly unit: Unit;
}

/** The findings of one file, sorted by place. */
export function checkFile(
  program: Program,
  file: SourceFile,
  settings: Settings = DEFAULT_SETTINGS,
  checker: UnitChecker = checkerOf(program, file, settings.limits),
): readonly Finding[] {
  const { scope } = checker;
  const starts = new Map<Unit, number>();
  const found: Found[] = [];
  for (const { unit, start } of file.tree.units) {
    starts.set(unit, start);
    for (const raw of checker.check(unit)) {
      if (raw.inside !== undefined && saidElsewhere(raw, checker, program)) continue;
      found.push({ ...raw, unit });
    }
  }
  found.push(...ofFile(program, file, scope));
  const place = (each: Found, severity: Severity): Finding => {
    const offset = starts.get(each.unit) ?? 0;
    return {
      rule: each.rule,
      severity,
      file: file.path,
      span: { start: offset + each.start, end: offset + each.end },
      params: each.params,
      fixes: fixesOf(each).map((fix) => shiftFix(fix, offset)),
      related: relatedOf(each, program),
    };
  };
  const placed: Finding[] = [];
  for (const each of found) {
    const severity = settings.rules.get(each.rule) ?? severityOf(each.rule);
    if (severity !== 'off') placed.push(place(each, severity));
  }
  const kept = applySilences(file, placed, settings);
  return capped(kept.sort(byPlace), file);
}

/** Checks single declarations of a file; kept by whoever checks the file again and again. */
export function checkerOf(
  program: Program,
  file: SourceFile,
  limits: Limits = DEFAULT_LIMITS,
): UnitChecker {
  return new UnitChecker(scopeOf(program, file), limits);
}

/** A phrase's own check says what is wrong in it, unless its file sees no game. */
function saidElsewhere(raw: RawFinding, checker: UnitChecker, program: Program): boolean {
  const { inside } = raw;
  if (inside === undefined) return false;
  const { declaration } = inside.unit;
  const phrase = 'name' in declaration ? declaration.name : undefined;
  const declared = phrase === undefined ? undefined : checker.scope.phrases.get(phrase.name);
  const own = checker
    .check(inside.unit)
    .some(
      (each) => each.rule === raw.rule && each.start === inside.start && each.end === inside.end,
    );
  if (!own || declared === undefined) return own;
  const { file } = declared;
  return (
    file === checker.scope.file ||
    program.files.get(file.path) !== file ||
    filesInScopeHaveGame(file, checker.scope)
  );
}

function ofFile(program: Program, file: SourceFile, scope: Scope): Found[] {
  const problems: ModelProblem[] = [...file.problems, ...scope.duplicates];
  checkGames(program, scope, collector(problems));
  const found: Found[] = problems.map(({ code, unit, start, end, params }) => ({
    rule: code, unit, start, end, params, fixes: undefined, inside: undefined,
  })); // prettier-ignore
  for (const rule of RULES as readonly Rule[]) {
    rule.check?.file?.({ program, file, scope }, (at, params, fixes) => {
      const { unit, start, end } = at;
      found.push({ rule: rule.name, unit, start, end, params, fixes, inside: undefined });
    });
  }
  return found;
}

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

function byPlace(a: Finding, b: Finding): number {
  return a.span.start - b.span.start || a.span.end - b.span.end || (a.rule < b.rule ? -1 : 1);
}

const WEIGHT: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2 };

/** No more findings of one declaration than anybody reads: the gravest stay, the rest is counted. */
function capped(findings: readonly Finding[], file: SourceFile): readonly Finding[] {
  const listed = LIMITS.problemsPerDeclaration;
  if (findings.length <= listed) return findings;
  const { units } = file.tree;
  const kept: Finding[] = [];
  let at = 0;
  for (let k = 0; k < units.length; k++) {
    const end = units[k + 1]?.start ?? Infinity;
    const from = at;
    while (at < findings.length && (findings[at]?.span.start ?? 0) < end) at++;
    const ofUnit = findings.slice(from, at);
    if (ofUnit.length <= listed) {
      kept.push(...ofUnit);
      continue;
    }
    const grave = [...ofUnit].sort((a, b) => WEIGHT[a.severity] - WEIGHT[b.severity]);
    const chosen = grave.slice(0, listed).sort(byPlace);
    kept.push(...chosen);
    const [rest] = grave.slice(listed);
    if (rest === undefined || chosen.some(({ rule }) => rule === 'more-problems')) continue;
    kept.push({ ...rest, rule: 'more-problems', params: { listed }, fixes: [], related: [] });
  }
  return kept;
}
