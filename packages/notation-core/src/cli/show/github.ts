import type { Checked } from './shown.js';
import { regionOf } from './shown.js';

const LEVELS = { error: 'error', warning: 'warning', note: 'notice' } as const;

/**
 * Findings as workflow commands, which GitHub Actions shows beside the changed lines. Form and
 * escaping: GitHub's documentation "Workflow commands for GitHub Actions", and `toCommandValue`,
 * `escapeData` and `escapeProperty` of its toolkit (packages/core/src/command.ts).
 */
export function githubText({ findings }: Checked): string {
  return findings
    .map(({ finding, message, lines }) => {
      const { start, end } = regionOf(lines, finding.span);
      // Columns say nothing across lines; GitHub ignores the whole place then.
      const columns =
        start.line === end.line
          ? { col: start.column, endColumn: Math.max(start.column, end.column - 1) }
          : {};
      const place = { file: finding.file, line: start.line, endLine: end.line, ...columns };
      const properties = Object.entries({ ...place, title: `tiptoe: ${finding.rule}` })
        .map(([name, value]) => `${name}=${escapeProperty(String(value))}`)
        .join(',');
      const words = [message.title, message.reason, message.wayOut]
        .filter((part) => part !== '')
        .join('\n');
      return `::${LEVELS[finding.severity]} ${properties}::${escapeData(words)}\n`;
    })
    .join('');
}

function escapeData(text: string): string {
  return text.replaceAll('%', '%25').replaceAll('\r', '%0D').replaceAll('\n', '%0A');
}

function escapeProperty(text: string): string {
  return escapeData(text).replaceAll(':', '%3A').replaceAll(',', '%2C');
}
