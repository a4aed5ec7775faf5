import { describe, type Finding, readSettings, type Severity } from '@tiptoe/notation-core';
import {
  type Diagnostic,
  DiagnosticSeverity,
  DiagnosticTag,
  type DiagnosticRelatedInformation,
} from 'vscode-languageserver-protocol';
import { Lines } from './positions.js';
import { isSettings } from './settings.js';
import type { Session } from './session.js';
import type { View } from './view.js';
import type { Steps } from './work.js';

/** Most findings of a file that are sent: one message must not hold the others up. */
export const MOST_FINDINGS = 2000;

/** What `data` of a diagnostic holds. */
export interface FindingData {
  readonly fixes: readonly { readonly title: string; readonly safety: string }[];
}

const SEVERITIES: Readonly<Record<Severity, DiagnosticSeverity>> = {
  error: DiagnosticSeverity.Error,
  warning: DiagnosticSeverity.Warning,
  note: DiagnosticSeverity.Information,
};

const WEIGHT: Readonly<Record<Severity, number>> = { error: 0, warning: 1, note: 2 };

/** The findings of a note in the words of the command line. */
export function* diagnosticsOf(
  view: View,
  findings: readonly Finding[],
): Steps<readonly Diagnostic[]> {
  const listed = yield* gravest(findings);
  const left = findings.length - listed.length;
  const made: Diagnostic[] = [];
  for (const finding of listed) {
    made.push(diagnosticOf(view, finding));
    yield;
  }
  if (left > 0) {
    made.push({
      range: view.range({ start: 0, end: 0 }),
      severity: DiagnosticSeverity.Information,
      source: 'tiptoe',
      code: 'more-problems',
      message: `${left} more findings are not listed here. tiptoe check lists them all.`,
    });
  }
  return made;
}

function* gravest(findings: readonly Finding[]): Steps<readonly Finding[]> {
  if (findings.length <= MOST_FINDINGS) return findings;
  const kept = new Set<Finding>();
  for (const severity of ['error', 'warning', 'note'] as const) {
    for (const finding of findings) {
      if (kept.size >= MOST_FINDINGS) break;
      if (WEIGHT[finding.severity] === WEIGHT[severity]) kept.add(finding);
    }
    yield;
  }
  return findings.filter((finding) => kept.has(finding));
}

export function diagnosticOf(view: View, finding: Finding): Diagnostic {
  const { rule, severity, span, fixes, related } = finding;
  const can = view.session.client.textDocument?.publishDiagnostics;
  const tags = rule.startsWith('unused-') ? [DiagnosticTag.Unnecessary] : [];
  const others: DiagnosticRelatedInformation[] = related.flatMap(({ file, span, words }) => {
    const location = view.location({ path: file, ...span });
    return location === undefined ? [] : [{ location, message: words }];
  });
  const data: FindingData = { fixes: fixes.map(({ title, safety }) => ({ title, safety })) };
  return {
    range: view.range(span),
    severity: SEVERITIES[severity],
    code: rule,
    source: 'tiptoe',
    message: wordsOf(finding),
    ...(tags.length > 0 && can?.tagSupport?.valueSet.includes(DiagnosticTag.Unnecessary) === true
      ? { tags }
      : {}),
    ...(others.length > 0 && can?.relatedInformation === true
      ? { relatedInformation: others }
      : {}),
    ...(fixes.length > 0 && can?.dataSupport === true ? { data } : {}),
  };
}

/** Title, reason and way out, each a sentence. */
export function wordsOf(finding: Pick<Finding, 'rule' | 'params'>): string {
  const { title, reason, wayOut } = describe(finding);
  return [title, reason, wayOut]
    .map((part) => part.trim())
    .filter((part) => part !== '')
    .map((part) => (/[.!?]$/.test(part) ? part : `${part}.`))
    .join(' ');
}

/** Findings of one file, notes and settings alike. */
export interface Report {
  readonly path: string;
  /** Of the open document that they speak of. */
  readonly version: number | undefined;
  readonly diagnostics: readonly Diagnostic[];
}

/** What is wrong in a settings file. */
function settingsReport(session: Session, path: string): Report {
  const text = session.store.text(path);
  const open = session.store.open.get(path);
  if (text === undefined || 'reason' in text) return { path, version: undefined, diagnostics: [] };
  const lines = open?.lines ?? Lines.of(text.text);
  const diagnostics = readSettings(text.text).errors.map(({ span, title, wayOut }) => ({
    range: lines.rangeOf(span, session.encoding),
    severity: DiagnosticSeverity.Error,
    source: 'tiptoe',
    message: `${title}. ${wayOut}`,
  }));
  return { path, version: open?.version, diagnostics };
}

/** The findings of a settled file. */
export function* reportOf(session: Session, path: string): Steps<Report> {
  if (isSettings(path)) return settingsReport(session, path);
  const view = session.viewNow(path);
  const project = session.projects.projectOf(path);
  const version = session.store.open.get(path)?.version;
  if (view === undefined || project === undefined) return { path, version, diagnostics: [] };
  const findings = yield* project.findings(view.analysis, path);
  const diagnostics = yield* diagnosticsOf(view, findings ?? []);
  return { path, version, diagnostics };
}
