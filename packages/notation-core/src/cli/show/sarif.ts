import type { Rule } from '../../rules/rule.js';
import type { Severity } from '../../text/finding.js';
import type { LineIndex } from '../../text/lines.js';
import { rulePage } from '../rule-page.js';
import { version } from '../version.js';
import { type Checked, type Shown, regionOf } from './shown.js';

/** What SARIF needs of a rule. */
export type RuleFacts = Pick<Rule, 'name' | 'severity' | 'title' | 'page'>;

const SCHEMA =
  'https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json';

/** SARIF's levels are our severities, word for word (OASIS SARIF 2.1.0, 3.27.10). */
const LEVELS: Readonly<Record<Severity, string>> = {
  error: 'error',
  warning: 'warning',
  note: 'note',
};

/** Findings as a SARIF 2.1.0 log (OASIS Standard, 27 March 2020) of one run. */
export function sarifText(checked: Checked, rules: readonly RuleFacts[]): string {
  const index = new Map(rules.map((rule, k) => [rule.name, k]));
  const paths = new Set([...checked.files, ...checked.findings.map(({ finding }) => finding.file)]);
  const log = {
    $schema: SCHEMA,
    version: '2.1.0',
    runs: [
      {
        tool: {
          driver: {
            name: 'tiptoe',
            version,
            semanticVersion: version,
            rules: rules.map(descriptor),
          },
        },
        invocations: [
          {
            executionSuccessful: checked.unchecked.length === 0,
            toolExecutionNotifications: checked.unchecked.map(({ path, reason }) => ({
              level: 'error',
              message: { text: sentence(reason) },
              locations: [{ physicalLocation: { artifactLocation: artifact(path) } }],
            })),
          },
        ],
        columnKind: 'utf16CodeUnits',
        artifacts: [...paths].map((path) => ({ location: artifact(path) })),
        results: checked.findings.map((shown) => result(shown, checked, index)),
      },
    ],
  };
  return JSON.stringify(log, null, 2) + '\n';
}

function descriptor(rule: RuleFacts) {
  const { name, severity, title, page } = rule;
  return {
    id: name,
    shortDescription: { text: sentence(title) },
    fullDescription: { text: sentence(page.what) },
    help: { text: sentence(page.why), markdown: rulePage(rule) },
    defaultConfiguration: { level: LEVELS[severity] },
  };
}

function result(
  { finding, message, lines }: Shown,
  checked: Checked,
  index: ReadonlyMap<string, number>,
) {
  const { rule, severity, file, span, related, fixes } = finding;
  const words = [message.title, message.reason, message.wayOut]
    .filter((part) => part !== '')
    .map(sentence)
    .join(' ');
  return {
    ruleId: rule,
    ...(index.has(rule) ? { ruleIndex: index.get(rule) } : {}),
    level: LEVELS[severity],
    message: { text: words },
    locations: [location(file, lines, span)],
    ...(related.length === 0
      ? {}
      : {
          relatedLocations: related.map((other) => ({
            ...location(other.file, checked.linesOf(other.file), other.span),
            message: { text: sentence(other.words) },
          })),
        }),
    ...(fixes.length === 0
      ? {}
      : {
          fixes: fixes.map(({ title, safety, edits }) => ({
            description: { text: sentence(title) },
            properties: { safety },
            artifactChanges: [
              {
                artifactLocation: artifact(file),
                replacements: edits.map((edit) => ({
                  deletedRegion: region(lines, edit.span),
                  ...(edit.text === '' ? {} : { insertedContent: { text: edit.text } }),
                })),
              },
            ],
          })),
        }),
  };
}

interface Stretch {
  readonly start: number;
  readonly end: number;
}

function location(file: string, lines: LineIndex | undefined, span: Stretch) {
  const place = lines === undefined ? {} : { region: region(lines, span) };
  return { physicalLocation: { artifactLocation: artifact(file), ...place } };
}

/** Lines and columns from 1, `endColumn` after the last character (3.30.8). */
function region(lines: LineIndex, span: Stretch) {
  const { start, end } = regionOf(lines, span);
  return {
    startLine: start.line,
    startColumn: start.column,
    endLine: end.line,
    endColumn: end.column,
    charOffset: span.start,
    charLength: span.end - span.start,
  };
}

/** A path as a relative reference or file URI (RFC 3986). */
function artifact(path: string) {
  const uri = path.split('/').map(encodeURIComponent).join('/');
  if (path.startsWith('/')) return { uri: `file://${uri}` };
  return { uri: /^[A-Za-z]:/.test(path) ? `file:///${uri.replace('%3A', ':')}` : uri };
}

/** Messages are sentences, each with its full stop. */
function sentence(text: string): string {
  const trimmed = text.trim();
  return /[.!?]$/.test(trimmed) ? trimmed : `${trimmed}.`;
}
