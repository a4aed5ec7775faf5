/** Line and column of an offset, both counted from 1; the column counts UTF-16 units. */
export interface Position {
  readonly line: number;
  readonly column: number;
}

/** Where each line of a text begins. LF, CRLF and a lone CR end a line. */
export class LineIndex {
  readonly #starts: readonly number[];

  constructor(readonly text: string) {
    const starts = [0];
    for (let i = 0; i < text.length; i++) {
      const c = text.charCodeAt(i);
      if (c === 10 || (c === 13 && text.charCodeAt(i + 1) !== 10)) starts.push(i + 1);
    }
    this.#starts = starts;
  }

  get lineCount(): number {
    return this.#starts.length;
  }

  positionAt(offset: number): Position {
    const line = this.lineAt(offset);
    return { line, column: offset - this.startOf(line) + 1 };
  }

  /** The line (from 1) that holds the offset. */
  lineAt(offset: number): number {
    const starts = this.#starts;
    let low = 0;
    let high = starts.length;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if ((starts[middle] ?? 0) <= offset) low = middle;
      else high = middle;
    }
    return low + 1;
  }

  /** The offset at which a line (from 1) begins. */
  startOf(line: number): number {
    return this.#starts[line - 1] ?? this.text.length;
  }

  /** The text of a line (from 1), without its line end. */
  lineText(line: number): string {
    return this.text.slice(this.startOf(line), this.startOf(line + 1)).replace(/[\r\n]+$/, '');
  }
}
