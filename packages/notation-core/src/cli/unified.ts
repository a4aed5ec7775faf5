import { FILE_HEADERS_ONLY, createTwoFilesPatch } from 'diff';
import type { Paint } from './screen.js';

/**
 * Changed lines beyond this are shown as one block: the search for the shortest list of changes
 * takes the square of their number.
 */
const MOST_CHANGES = 4000;

/** The change of a file as a unified diff (IEEE Std 1003.1-2017, diff -U), or '' where there is none. */
export function unifiedDiff(path: string, before: string, after: string): string {
  if (before === after) return '';
  const options = { context: 3, headerOptions: FILE_HEADERS_ONLY };
  const found = createTwoFilesPatch(path, path, before, after, '', '', {
    ...options,
    maxEditLength: MOST_CHANGES,
  });
  return found ?? oneBlock(path, before, after);
}

function oneBlock(path: string, before: string, after: string): string {
  const part = (sign: string, text: string): { text: string; count: number } => {
    const lines = text.split('\n');
    const ended = lines[lines.length - 1] === '';
    if (ended) lines.pop();
    const last = ended || lines.length === 0 ? '' : '\\ No newline at end of file\n';
    return { text: lines.map((line) => `${sign}${line}\n`).join('') + last, count: lines.length };
  };
  const from = part('-', before);
  const to = part('+', after);
  const range = (count: number) => (count === 0 ? '0,0' : `1,${count}`);
  const head = `--- ${path}\n+++ ${path}\n@@ -${range(from.count)} +${range(to.count)} @@\n`;
  return head + from.text + to.text;
}

/** Colours a unified diff line by line. */
export function paintDiff(diff: string, paint: Paint): string {
  return diff
    .split('\n')
    .map((line) => {
      if (line.startsWith('+++') || line.startsWith('---')) return paint('bold', line);
      if (line.startsWith('@@')) return paint('cyan', line);
      if (line.startsWith('+')) return paint('green', line);
      return line.startsWith('-') ? paint('red', line) : line;
    })
    .join('\n');
}
