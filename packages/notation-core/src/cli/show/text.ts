import type { Finding } from '../../text/finding.js';
import { oneLine } from '../exit.js';
import type { Output } from '../output.js';
import type { Paint } from '../screen.js';
import { wrap } from '../wrap.js';
import { type Width, excerpt, isAscii } from './excerpt.js';
import { type Checked, type Counts, type Shown, count, regionOf } from './shown.js';

export interface TextStyle {
  readonly paint: Paint;
  /** Columns of the screen. */
  readonly width: number;
}

const COLOURS = { error: 'red', warning: 'yellow', note: 'blue' } as const;

/** The findings for reading, with the source under each, and a line that sums up. */
export async function writeText(checked: Checked, output: Output, style: TextStyle): Promise<void> {
  for (const shown of checked.findings) {
    const wait = output.write((await findingText(shown, checked, style)) + '\n');
    if (wait) await wait;
  }
  await output.write(summaryText(checked, style.paint));
}

/** One finding: place and words, the line with its marks, the reason, the way out, the rule. */
export async function findingText(
  { finding, message, lines }: Shown,
  checked: Checked,
  { paint, width }: TextStyle,
): Promise<string> {
  const { severity, file, span } = finding;
  const { line, column } = lines.positionAt(span.start);
  const colour = COLOURS[severity];
  const number = String(line);
  const margin = ' '.repeat(number.length + 2);
  const room = Math.max(30, Math.min(width, 160) - margin.length - 2);
  const part = excerpt(lines, span, room, await widthFor(lines.text, span.start));
  const place = `${oneLine(file)}:${line}:${column}`;
  const out = [
    `${paint('bold', place)} ${paint(colour, severity)}: ${paint('bold', oneLine(message.title))}`,
    `${paint('dim', ` ${number} |`)} ${part.line}`.trimEnd(),
    `${paint('dim', `${margin}|`)} ${paint(colour, part.marks)}`,
  ];
  const below = (label: string, text: string) => {
    if (text === '') return;
    const indent = ' '.repeat(margin.length + label.length + 1);
    const body = wrap(text, Math.min(width, 100), indent).slice(indent.length);
    out.push(`${margin}${paint('cyan', label)} ${body}`);
  };
  below('why:', oneLine(message.reason));
  for (const related of finding.related) {
    const at = checked.linesOf(related.file)?.positionAt(related.span.start);
    const where = at === undefined ? related.file : `${related.file}:${at.line}:${at.column}`;
    below('see:', oneLine(`${where} ${related.words}`));
  }
  below('way out:', oneLine(message.wayOut));
  for (const fix of finding.fixes) {
    // A suggestion that the way out has made already says nothing new.
    if (fix.safety === 'suggestion' && message.wayOut.includes(fix.title)) continue;
    below('fix:', `${oneLine(fix.title)} (${howTo(fix.safety)})`);
  }
  below('rule:', finding.rule + tail(finding, lines));
  return out.join('\n') + '\n';
}

function howTo(safety: Finding['fixes'][number]['safety']): string {
  switch (safety) {
    case 'safe':
      return 'tiptoe check --fix does it';
    case 'changes-timing':
      return 'changes the timing; tiptoe check --fix-timing does it';
    case 'suggestion':
      return 'one way of several';
  }
}

/** A span over several lines shows only its first; the place of its end says the rest. */
function tail(finding: Finding, lines: Shown['lines']): string {
  const { start, end } = regionOf(lines, finding.span);
  return end.line > start.line ? ` (up to line ${end.line})` : '';
}

export function summaryText(checked: Checked, paint: Paint): string {
  const counts: Counts = count(checked.findings);
  const files = plural(checked.files.length, 'note');
  const said = (Object.keys(COLOURS) as (keyof typeof COLOURS)[])
    .map((severity) => [severity, counts[`${severity}s`]] as const)
    .filter(([, many]) => many > 0)
    .map(([severity, many]) => paint(COLOURS[severity], plural(many, severity)));
  const verdict = said.length === 0 ? paint('green', 'nothing to report') : said.join(', ');
  const missing =
    checked.unchecked.length === 0
      ? ''
      : `; ${plural(checked.unchecked.length, 'file')} not checked`;
  const mended = checked.mended ?? 0;
  const done = mended === 0 ? '' : `; ${mended} mended`;
  return `${files} checked: ${verdict}${done}${missing}.\n`;
}

function plural(many: number, word: string): string {
  return `${many} ${word}${many === 1 ? '' : 's'}`;
}

const ascii: Width = (text) => text.length;

/** The widths of a terminal's characters are loaded only where the text needs them. */
async function widthFor(text: string, at: number): Promise<Width> {
  if (isAscii(text.slice(Math.max(0, at - 500), at + 500))) return ascii;
  const { default: stringWidth } = await import('string-width');
  return stringWidth;
}
