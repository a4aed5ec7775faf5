import type { TextDocumentContentChangeEvent } from 'vscode-languageserver-protocol';
import type { FileText } from './host.js';
import { type Change, type Encoding, Lines } from './positions.js';

/** A document that the client holds open; its text is the client's, not the disk's. */
export interface OpenDocument {
  readonly uri: string;
  readonly path: string;
  readonly version: number;
  readonly lines: Lines;
}

/** The texts of all files by path: of open documents as the client told them, of others as read. */
export class Store {
  readonly #open = new Map<string, OpenDocument>();
  readonly #read = new Map<string, FileText>();
  #forgotten = 0;

  get open(): ReadonlyMap<string, OpenDocument> {
    return this.#open;
  }

  /** Undefined where the file was not read yet. */
  text(path: string): FileText | undefined {
    const open = this.#open.get(path);
    return open === undefined ? this.#read.get(path) : { text: open.lines.text };
  }

  /** Grows whenever a text is forgotten: what was read before may be old. */
  get forgotten(): number {
    return this.#forgotten;
  }

  /** What a file on the disk holds. */
  put(path: string, text: FileText): void {
    this.#read.set(path, text);
  }

  forget(path: string): void {
    this.#forgotten++;
    this.#read.delete(path);
  }

  opened(uri: string, path: string, version: number, text: string): void {
    this.#read.delete(path);
    this.#open.set(path, { uri, path, version, lines: Lines.of(text) });
  }

  closed(path: string): void {
    this.#open.delete(path);
  }

  /**
   * Applies changes one after the other, each to the text that the one before left. False where
   * the document is not open.
   */
  changed(
    path: string,
    version: number,
    events: readonly TextDocumentContentChangeEvent[],
    encoding: Encoding,
  ): boolean {
    const open = this.#open.get(path);
    if (open === undefined) return false;
    let { lines } = open;
    for (const event of events) lines = lines.changed(changeOf(lines, event, encoding));
    this.#open.set(path, { ...open, version, lines });
    return true;
  }
}

function changeOf(lines: Lines, event: TextDocumentContentChangeEvent, encoding: Encoding): Change {
  if (!('range' in event)) return difference(lines.text, event.text);
  const a = lines.offsetAt(event.range.start, encoding);
  const b = lines.offsetAt(event.range.end, encoding);
  return { start: Math.min(a, b), end: Math.max(a, b), text: event.text };
}

/** The one change between two texts, as short as their equal beginnings and ends make it. */
export function difference(from: string, to: string): Change {
  const most = Math.min(from.length, to.length);
  let start = 0;
  while (start < most && from.charCodeAt(start) === to.charCodeAt(start)) start++;
  let same = 0;
  while (
    same < most - start &&
    from.charCodeAt(from.length - 1 - same) === to.charCodeAt(to.length - 1 - same)
  ) {
    same++;
  }
  return { start, end: from.length - same, text: to.slice(start, to.length - same) };
}
