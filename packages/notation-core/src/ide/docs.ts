import type { Unit } from '../syntax/tree.js';

/** The `## …` lines in front of a declaration, without their signs; '' where there are none. */
export function docsOf({ text, comments, declaration }: Unit): string {
  const lines: string[] = [];
  let end = declaration.start;
  for (let i = comments.length - 1; i >= 0; i--) {
    const comment = comments[i];
    if (comment === undefined || comment.end > end) continue;
    const written = text.slice(comment.start, comment.end);
    const between = text.slice(comment.end, end);
    if (!written.startsWith('##') || /\n[^\S\n]*\n|\r[^\S\r\n]*\r/.test(between)) break;
    if (/\S/.test(between)) break;
    lines.unshift(written.replace(/^##+\s?/, '').trimEnd());
    end = comment.start;
  }
  return lines.join('\n');
}
