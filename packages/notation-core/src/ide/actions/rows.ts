import type { SourceFile } from '../../model/program.js';
import type { Finding } from '../../text/finding.js';
import type { Placed } from '../../syntax/tree.js';
import { bodyAt, chainAt, levelsAt, type Point } from '../items-at.js';
import { placeInFront } from './extract.js';
import type { CodeAction, Put } from './types.js';

const LANDING = 'spot';

/** Writes the row of the log that is missing where it does not say where an item leads. */
export function putRows(point: Point, findings: readonly Finding[], put: Put): void {
  const { unit, start } = point;
  for (const finding of findings) {
    if (finding.rule !== 'unknown-landing') continue;
    const at = finding.span.start - start;
    const body = bodyAt(unit.declaration, at);
    if (body === undefined) continue;
    const levels = levelsAt(body.items, at).filter(({ item }) => item !== undefined);
    const level = levels[levels.length - 1];
    if (level?.item === undefined || level.context !== 'run') continue;
    const chain = chainAt(level.items, level.before - 1);
    const [head] = chain;
    const last = chain[chain.length - 1];
    if (head === undefined || last === undefined) continue;
    const end = chain.length === 1 ? (head.repeat?.start ?? head.end) : last.end;
    const items = unit.text.slice(head.start, end).replace(/\s+/g, ' ').trim();
    if (items.includes('#')) continue;
    const claim = chain.length === 1 && head.repeat !== undefined ? undefined : last.marks.find(({ kind }) => kind === 'claim'); // prettier-ignore
    const landing = claim?.kind === 'claim' ? claim.name : undefined;
    const from = String(finding.params['from'] ?? '');
    for (const [, spot = ''] of from.matchAll(/@([\p{L}\p{N}_]+)/gu)) {
      put(actionOf(point, finding, spot, items, landing));
    }
  }
}

type Row = Pick<CodeAction, 'title' | 'kind' | 'safety' | 'path' | 'edits' | 'placeholder' | 'finding'>; // prettier-ignore

function actionOf(
  point: Point,
  finding: Finding,
  spot: string,
  items: string,
  landing: string | undefined,
): Row {
  const row = `@${spot} : ${items} -> @${landing ?? LANDING}`;
  const { file, at, text, before } = placeOf(point, spot, row);
  const name = at + before + row.length - LANDING.length;
  return {
    title: `Log ${row.slice(0, 60)}, if you have seen it`.replace(`@${LANDING},`, '@…,'),
    kind: 'row',
    safety: 'suggestion',
    path: file.path,
    edits: [{ span: { start: at, end: at }, text }],
    placeholder: landing === undefined ? { start: name, end: name + LANDING.length } : undefined,
    finding,
  };
}

/**
 * Where a row goes: into the last log with a row from its spot, else the last one of this file,
 * else the last one of those in scope, else one of its own in front of the declaration.
 */
function placeOf(
  { file, scope, unit, start }: Point,
  spot: string,
  row: string,
): { file: SourceFile; at: number; text: string; before: number } {
  const whole = scope.seen.filter((each) => each.unit.problems.length === 0);
  const found =
    whole
      .filter(({ declaration }) => declaration.rows.some(({ from }) => from.name === spot))
      .pop() ??
    whole.filter((each) => each.file === file).pop() ??
    whole[whole.length - 1];
  const placed = found?.file.tree.units.find((each) => each.unit === found.unit);
  if (found !== undefined && placed !== undefined) {
    const { at, text, before } = inLog(placed, row, eolOf(found.file));
    return { file: found.file, at, text, before };
  }
  const eol = eolOf(file);
  const { at, fresh } = placeInFront(file, { unit, start });
  const head = `${fresh ? '' : eol}seen {${eol}  `;
  return { file, at, text: `${head}${row}${eol}}${eol}${eol}`, before: head.length };
}

function inLog({ unit, start }: Placed, row: string, eol: string) {
  const { text, declaration } = unit;
  const rows = declaration.kind === 'seen' ? declaration.rows : [];
  const last = rows[rows.length - 1];
  const brace = declaration.end - 1;
  const lineStart = text.lastIndexOf('\n', brace) + 1;
  if (last === undefined || text.slice(lineStart, brace).trim() !== '') {
    return { at: start + brace, text: `${row} `, before: 0 };
  }
  const indent = /[^\S\r\n]*$/.exec(text.slice(0, last.start))?.[0] ?? '  ';
  return { at: start + lineStart, text: `${indent}${row}${eol}`, before: indent.length };
}

function eolOf({ tree }: SourceFile): string {
  return tree.text.includes('\r\n') ? '\r\n' : '\n';
}
