import type { Program, SourceFile } from '../model/program.js';
import { collector, type ModelProblem } from '../model/problems.js';
import { scopeOf } from '../model/scope.js';
import type { Unit } from '../syntax/tree.js';
import type { Finding, Related } from '../text/finding.js';
import { Memo } from '../text/memo.js';
import { checkGames } from './checks/uses.js';
import { factsOf } from './facts.js';
import { Keys } from './keys.js';
import { DEFAULT_LIMITS, type Limits } from './limits.js';
import { inOrder, NO_PIECE, pieceOf, placedAt, runsOf } from './pieces.js';
import { RULES } from './registry.js';
import type { FileContext, Place, Rule } from './rule.js';
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
  const facts = factsOf(program, file);
  const ofUnits = fileFindings({ program, file, scope, errorsIn: errorsOf, facts });
  const foundIn = (unit: Unit): readonly RawFinding[] => {
    const own = foundBy(checker, unit);
    const more = ofUnits.get(unit);
    return more === undefined ? own : [...own, ...more];
  };
  const findings: Finding[] = [];
  let offset = 0;
  for (const run of runsOf(file.tree.units.map(({ unit }) => unit))) {
    const piece = pieceOf(run, file.path, foundIn, settings);
    if (piece !== NO_PIECE) {
      findings.push(...placedAt(piece, offset, (place) => relatedTo(place, program)));
    }
    for (const { text } of run) offset += text.length;
  }
  return inOrder(findings);
}

/** What a checker finds in a unit, less what is said where a phrase is declared. */
export function foundBy(checker: UnitChecker, unit: Unit): readonly RawFinding[] {
  const found = checker.check(unit);
  if (found.every(({ inside }) => inside === undefined)) return found;
  const keys = new Keys();
  return found.filter(({ rule, start, end, inside }) => {
    if (inside === undefined) return true;
    return checker.saidElsewhere(rule, inside) !== true && keys.add(rule, start, end);
  });
}

/** Checks single declarations of a file; kept by whoever checks the file again and again. */
export function checkerOf(
  program: Program,
  file: SourceFile,
  limits: Limits = DEFAULT_LIMITS,
): UnitChecker {
  return new UnitChecker(scopeOf(program, file), limits);
}

/** What only a file as a whole shows, by the unit that it is said of. */
export function fileFindings(context: FileContext): ReadonlyMap<Unit, readonly RawFinding[]> {
  const { program, file, scope } = context;
  const found = new Map<Unit, RawFinding[]>();
  const add = (unit: Unit, raw: Omit<RawFinding, 'inside'>): void => {
    const list = found.get(unit);
    if (list === undefined) found.set(unit, [{ ...raw, inside: undefined }]);
    else list.push({ ...raw, inside: undefined });
  };
  const problems: ModelProblem[] = [...file.problems, ...scope.duplicates];
  checkGames(program, scope, collector(problems));
  for (const { code, unit, start, end, params } of problems) {
    add(unit, { rule: code, start, end, params, fixes: undefined });
  }
  for (const rule of RULES as readonly Rule[]) {
    rule.check?.file?.(context, ({ unit, start, end }, params, fixes) => {
      add(unit, { rule: rule.name, start, end, params, fixes });
    });
  }
  return found;
}

function relatedTo({ unit, start, end }: Place, program: Program): readonly Related[] {
  for (const { path, tree } of program.files.values()) {
    const placed = tree.units.find((each) => each.unit === unit);
    if (placed === undefined) continue;
    return [relatedAt(path, placed.start + start, placed.start + end)];
  }
  return [];
}

/** The place inside a phrase that a finding at its use is about. */
export function relatedAt(file: string, start: number, end: number): Related {
  return { file, span: { start, end }, words: 'here, inside the phrase' };
}
