import type { Comment, Placed, SeenDeclaration, SeenRow } from '../syntax/tree.js';

/** A `seen` block in its file. */
export interface Block {
  readonly placed: Placed;
  readonly declaration: SeenDeclaration;
}

/** What ends the lines of a text: its first line end, or LF. */
export function lineEndOf(text: string): string {
  return /\r\n|\n|\r/.exec(text)?.[0] ?? '\n';
}

/** The comment behind a row on its line. */
export function commentBehind({ placed }: Block, row: SeenRow): Comment | undefined {
  const { comments, text } = placed.unit;
  let low = 0;
  for (let high = comments.length; low < high;) {
    const middle = (low + high) >> 1;
    if ((comments[middle]?.start ?? 0) < row.end) low = middle + 1;
    else high = middle;
  }
  const comment = comments[low];
  const blank = comment !== undefined && /^[^\S\r\n]*$/.test(text.slice(row.end, comment.start));
  return blank ? comment : undefined;
}

/** Where new rows go: behind the last row or comment of the block, counted in its unit. */
export function endOfRows({ placed, declaration }: Block): number {
  const { comments, text } = placed.unit;
  let brace = text.indexOf('{', declaration.start);
  for (const { start, end } of comments) {
    if (brace >= start && brace < end) brace = text.indexOf('{', end);
  }
  const inside = comments.filter(({ start, end }) => start > brace && end <= declaration.end);
  const row = declaration.rows.at(-1);
  return Math.max(brace + 1, row?.end ?? 0, inside.at(-1)?.end ?? 0);
}

/** Columns of a row, counted from the beginning of its line; -1 for what it lacks. */
export interface Columns {
  readonly indent: string;
  readonly colon: number;
  readonly items: number;
  readonly arrow: number;
  readonly to: number;
  readonly count: number;
}

/** Rows, and blanks in front of one, that are looked at for the columns. */
const FAR = 1000;

/** How the rows of a block stand, as its last row on a line of its own shows. */
export function columnsOf({ placed, declaration }: Block): Columns | undefined {
  const { text } = placed.unit;
  for (const row of declaration.rows.slice(-FAR).reverse()) {
    const [first] = row.body;
    if (row.to === undefined || first === undefined) continue;
    const written = text.slice(row.start, row.end);
    const indent = /(?:^|[\r\n])([^\S\r\n]*)$/.exec(
      text.slice(Math.max(0, row.start - FAR), row.start),
    );
    if (/[\r\n]/.test(written) || indent?.[1] === undefined) continue;
    const line = row.start - indent[1].length;
    return {
      indent: indent[1],
      colon: text.indexOf(':', row.from.end) - line,
      items: first.start - line,
      arrow: text.lastIndexOf('->', row.to.start) - line,
      to: row.to.start - line,
      count: row.counted ? written.search(/x[0-9]+$/) + row.start - line : -1,
    };
  }
  return undefined;
}

/** A row in the columns of its block. */
export function rowText(
  columns: Columns | undefined,
  row: { readonly from: string; readonly items: string; readonly to: string },
  count: number,
): string {
  const parts: [text: string, column: number][] = [
    [`@${row.from}`, 0],
    [':', columns?.colon ?? 0],
    [row.items, columns?.items ?? 0],
    ['->', columns?.arrow ?? 0],
    [`@${row.to}`, columns?.to ?? 0],
    [`x${count}`, columns?.count ?? 0],
  ];
  let line = columns?.indent ?? '  ';
  parts.forEach(([text, column], i) => {
    if (i > 0) line += ' '.repeat(Math.max(1, column - line.length));
    line += text;
  });
  return line;
}

/** A note as a comment: one line, and never an order to the checker. */
export function commentText(notes: readonly string[]): string {
  const said = notes.map((note) => note.replace(/[\p{Cc}\s]+/gu, ' ').trim());
  const text = [...new Set(said)].filter((note) => note !== '').join('; ');
  if (text === '') return '';
  return /^#*\s*tiptoe\b/i.test(text) ? `# note: ${text}` : `# ${text}`;
}
