import type { SourceFile } from '../model/program.js';
import type { Placed, Unit } from '../syntax/tree.js';
import type { Finding, Fix, Related, Severity } from '../text/finding.js';
import { LIMITS } from '../text/limits.js';
import { isRuleName, ruleNamed, severityOf } from './registry.js';
import type { LocalFix, Place, Rule } from './rule.js';
import type { Settings } from './settings.js';
import { applySilences } from './silences/apply.js';
import type { RawFinding } from './unit-check.js';

/**
 * The findings of a file, piece by piece. A piece is a run of declarations that begins a line and
 * ends one (nearly always one declaration): silences speak of lines, so nothing in a piece depends
 * on another. Places in it count from its start, so a piece stays good while text in front moves.
 */
export interface Piece {
  /** Sorted by place; `related` is left to `placedAt`, since it leads to other pieces. */
  readonly findings: readonly Finding[];
  /** Where a finding is inside a phrase; undefined where none is. */
  readonly inside: ReadonlyMap<Finding, Place> | undefined;
}

export const NO_PIECE: Piece = { findings: [], inside: undefined };

/** Cuts units into the runs that pieces are made of. */
export function* runsOf(units: readonly Unit[]): Generator<readonly Unit[]> {
  let from = 0;
  for (let k = 1; k <= units.length; k++) {
    if (k < units.length && !endsLine(units[k - 1])) continue;
    yield units.slice(from, k);
    from = k;
  }
}

export function endsLine(unit: Unit | undefined): boolean {
  const { text = '' } = unit ?? {};
  const last = text.charCodeAt(text.length - 1);
  return last === 10 || last === 13;
}

interface Found extends RawFinding {
  readonly unit: Unit;
  readonly offset: number;
}

/** The piece of a run of units. `foundIn` gives what was found in each. */
export function pieceOf(
  run: readonly Unit[],
  path: string,
  foundIn: (unit: Unit) => readonly RawFinding[],
  settings: Settings,
): Piece {
  const found: Found[] = [];
  const placed: Placed[] = [];
  let offset = 0;
  let silenced = false;
  for (const unit of run) {
    for (const raw of foundIn(unit)) {
      if (settings.rules.get(raw.rule) !== 'off') found.push({ ...raw, unit, offset });
    }
    silenced ||= unit.comments.length > 0 && unit.text.includes('tiptoe:');
    placed.push({ start: offset, unit });
    offset += unit.text.length;
  }
  if (found.length === 0 && !silenced) return NO_PIECE;
  const severity = (rule: string): Severity => {
    const set = settings.rules.get(rule);
    return set === undefined || set === 'off' ? severityOf(rule) : set;
  };
  const ofRun = silenced ? fileOf(path, placed) : undefined;
  const { kept, ofSilences } =
    ofRun === undefined ? { kept: found, ofSilences: [] } : applySilences(ofRun, found, settings);
  const inside = new Map<Finding, Place>();
  const made = capped(kept, severity).map((each): Finding => {
    const { rule, params } = each;
    const finding: Finding = {
      rule,
      severity: severity(rule),
      file: path,
      span: { start: each.offset + each.start, end: each.offset + each.end },
      params,
      fixes: fixesOf(each).map((fix) => shiftFix(fix, each.offset)),
      related: [],
    };
    if (each.inside !== undefined) inside.set(finding, each.inside);
    return finding;
  });
  return {
    findings: ofSilences.length === 0 ? made : [...made, ...ofSilences].sort(bySpan),
    inside: inside.size > 0 ? inside : undefined,
  };
}

/** The findings of a piece that begins at an offset of its file. */
export function placedAt(
  { findings, inside }: Piece,
  offset: number,
  relatedTo: (place: Place) => readonly Related[],
): readonly Finding[] {
  if (offset === 0 && inside === undefined) return findings;
  return findings.map((finding): Finding => {
    const { span, fixes } = finding;
    const place = inside?.get(finding);
    return {
      ...finding,
      span: { start: span.start + offset, end: span.end + offset },
      fixes: fixes.map((fix) => ({
        ...fix,
        edits: fix.edits.map(({ span: at, text }) => ({
          span: { start: at.start + offset, end: at.end + offset },
          text,
        })),
      })),
      related: place === undefined ? [] : relatedTo(place),
    };
  });
}

/** What stands at the very end of one piece may belong behind what begins the next. */
export function inOrder(findings: Finding[]): Finding[] {
  for (let k = 1; k < findings.length; k++) {
    const [a, b] = [findings[k - 1], findings[k]];
    if (a !== undefined && b !== undefined && bySpan(a, b) > 0) return findings.sort(bySpan);
  }
  return findings;
}

function bySpan(a: Finding, b: Finding): number {
  return a.span.start - b.span.start || a.span.end - b.span.end;
}

function fileOf(path: string, units: readonly Placed[]): SourceFile {
  const text = units.map(({ unit }) => unit.text).join('');
  return { path, tree: { text, units }, uses: [], problems: [] };
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

function byPlace(a: Found, b: Found): number {
  const start = a.offset + a.start - (b.offset + b.start);
  if (start !== 0) return start;
  return a.offset + a.end - (b.offset + b.end) || (a.rule < b.rule ? -1 : 1);
}

const WEIGHT: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2 };

/** No more findings of one declaration than anybody reads: the gravest stay, the rest is counted. */
function capped(found: readonly Found[], severity: (rule: string) => Severity): readonly Found[] {
  const listed = LIMITS.problemsPerDeclaration;
  if (found.length <= listed) return [...found].sort(byPlace);
  const kept: Found[] = [];
  for (let from = 0, to = 0; from < found.length; from = to) {
    while (found[to]?.unit === found[from]?.unit && to < found.length) to++;
    const ofUnit = found.slice(from, to).sort(byPlace);
    if (ofUnit.length <= listed) {
      kept.push(...ofUnit);
      continue;
    }
    const weigh = ({ rule }: Found): number => WEIGHT[severity(rule)];
    const grave = ofUnit.sort((a, b) => weigh(a) - weigh(b));
    const chosen = grave.slice(0, listed);
    kept.push(...chosen);
    const [rest] = grave.slice(listed);
    if (rest === undefined || chosen.some(({ rule }) => rule === 'more-problems')) continue;
    kept.push({ ...rest, fixes: undefined, inside: undefined, rule: 'more-problems', params: { listed } }); // prettier-ignore
  }
  return kept.sort(byPlace);
}
