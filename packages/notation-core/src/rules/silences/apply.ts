import type { SourceFile } from '../../model/program.js';
import type { Finding, Fix, Params, Severity } from '../../text/finding.js';
import { LineIndex } from '../../text/lines.js';
import type { Span } from '../../text/span.js';
import { isRuleName, nearestRule, severityOf } from '../registry.js';
import { isFixed, type Settings } from '../settings.js';
import { type Silence, silencesOf } from './read.js';

/** Rules that no silence takes back: what cannot be read, and the silences themselves. */
const NEVER = new Set(['silence-form', 'silence-without-reason', 'unused-silence']);

/** What a silence can take away: a finding of a rule, by its unit and its place in it. */
interface Silenced {
  readonly rule: string;
  readonly offset: number;
  readonly start: number;
}

/**
 * Takes away the findings that a silence allows, and reports the silences that are badly formed,
 * have no reason, or silence nothing.
 */
export function applySilences<F extends Silenced>(
  file: SourceFile,
  findings: readonly F[],
  settings: Settings,
): { kept: F[]; ofSilences: Finding[] } {
  const silences = silencesOf(file);
  if (silences.length === 0) return { kept: [...findings], ofSilences: [] };
  const lines = new LineIndex(file.tree.text);
  const byLine = new Map<number, Set<string>>();
  for (const silence of silences) {
    const taken = byLine.get(silence.line) ?? new Set<string>();
    for (const { name } of silence.rules) if (!NEVER.has(name) && !isFixed(name)) taken.add(name);
    byLine.set(silence.line, taken);
  }
  const used = new Set<string>();
  const kept = findings.filter(({ rule, offset, start }) => {
    const line = lines.lineAt(offset + start);
    if (byLine.get(line)?.has(rule) !== true) return true;
    used.add(`${line} ${rule}`);
    return false;
  });
  const ofSilences: Finding[] = [];
  const add = (rule: string, span: Span, params: Params, fixes: readonly Fix[] = []): void => {
    const severity: Severity | 'off' = settings.rules.get(rule) ?? severityOf(rule);
    if (severity === 'off') return;
    ofSilences.push({ rule, severity, file: file.path, span, params, fixes, related: [] });
  };
  for (const silence of silences) {
    const counts = (name: string) =>
      used.has(`${silence.line} ${name}`) || settings.rules.get(name) === 'off';
    checkSilence(silence, file.tree.text, add, counts);
  }
  return { kept, ofSilences };
}

function checkSilence(
  silence: Silence,
  text: string,
  add: (rule: string, span: Span, params: Params, fixes?: readonly Fix[]) => void,
  isUsed: (name: string) => boolean,
): void {
  const { span, rules, reason, formed } = silence;
  const written = text.slice(span.start, span.end);
  if (!formed) {
    add('silence-form', span, { written });
    return;
  }
  if (reason === '') {
    add('silence-without-reason', span, {
      written,
      names: rules.map(({ name }) => name).join(', '),
    });
  }
  for (const { name, span: at } of rules) {
    if (!isRuleName(name)) {
      const near = nearestRule(name);
      const edits = [{ span: at, text: near }];
      const fixes: Fix[] =
        near === '' ? [] : [{ title: `Write ${near}`, safety: 'suggestion', edits }];
      add('unknown-name', at, { kind: 'rule', name, near }, fixes);
    } else if (!isUsed(name)) {
      add('unused-silence', at, { name });
    }
  }
}
