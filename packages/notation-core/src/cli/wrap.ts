/**
 * Breaks a text into lines of at most `width` columns, each after `indent`; a word that is longer
 * stands alone. White space, line ends included, counts as one space.
 */
export function wrap(text: string, width: number, indent = ''): string {
  const room = Math.max(20, width - indent.length);
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/)) {
    if (word === '') continue;
    if (line !== '' && line.length + 1 + word.length > room) {
      lines.push(line);
      line = word;
    } else line += (line === '' ? '' : ' ') + word;
  }
  if (line !== '') lines.push(line);
  return lines.map((each) => indent + each).join('\n');
}
