import type { SourceFile } from '@tiptoe/notation-core';
import type { Analysis, FileSpan } from '@tiptoe/notation-core/ide/analysis';
import type {
  ClientCapabilities,
  Location,
  Position,
  Range,
  TextDocumentEdit,
  TextEdit,
  WorkspaceEdit,
} from 'vscode-languageserver-protocol';
import { type Encoding, Lines } from './positions.js';
import type { Store } from './store.js';

interface Span {
  readonly start: number;
  readonly end: number;
}

/** What the form of an answer depends on, besides the files. */
export interface Form {
  readonly store: Store;
  readonly encoding: Encoding;
  readonly client: ClientCapabilities;
  uri(path: string): string;
}

/** An edit of a file, its offsets counted from the start of the file. */
export interface FileEdit {
  readonly path: string;
  readonly span: Span;
  readonly text: string;
}

const known = new WeakMap<SourceFile['tree'], Lines>();

/** One document in one state of all files, and the protocol's form of places in it. */
export class View {
  readonly path: string;
  readonly #encoding: Encoding;

  constructor(
    readonly session: Form,
    readonly analysis: Analysis,
    readonly file: SourceFile,
  ) {
    this.path = file.path;
    this.#encoding = session.encoding;
  }

  get lines(): Lines {
    return this.#linesOf(this.file);
  }

  offset(position: Position): number {
    return this.lines.offsetAt(position, this.#encoding);
  }

  span({ start, end }: Range): Span {
    return { start: this.offset(start), end: this.offset(end) };
  }

  position(offset: number): Position {
    return this.lines.positionAt(offset, this.#encoding);
  }

  range(span: Span): Range {
    return this.lines.rangeOf(span, this.#encoding);
  }

  edits(edits: readonly { readonly span: Span; readonly text: string }[]): TextEdit[] {
    return edits.flatMap(({ span, text }) => {
      const newText = inLineEnds(text, this.file.tree.text);
      // Another kind of line end is the editor's to choose.
      if (newText === this.file.tree.text.slice(span.start, span.end)) return [];
      return [{ range: this.range(span), newText }];
    });
  }

  /** A range in any file of the analysis. */
  rangeIn(path: string, span: Span): Range | undefined {
    const file = path === this.path ? this.file : this.analysis.file(path);
    return file === undefined ? undefined : this.#linesOf(file).rangeOf(span, this.#encoding);
  }

  location({ path, start, end }: FileSpan): Location | undefined {
    const range = this.rangeIn(path, { start, end });
    return range === undefined ? undefined : { uri: this.session.uri(path), range };
  }

  locations(spans: Iterable<FileSpan>): Location[] {
    return [...spans].flatMap((span) => this.location(span) ?? []);
  }

  /** Edits of several files, tied to the versions that they were made for where the client can. */
  workspaceEdit(edits: readonly FileEdit[]): WorkspaceEdit {
    return workspaceEdit(this.session, edits, (path, span) => this.rangeIn(path, span));
  }

  #linesOf(file: SourceFile): Lines {
    const open = this.session.store.open.get(file.path)?.lines;
    if (open?.text === file.tree.text) return open;
    let lines = known.get(file.tree);
    if (lines === undefined) known.set(file.tree, (lines = Lines.of(file.tree.text)));
    return lines;
  }
}

export function workspaceEdit(
  session: Form,
  edits: readonly FileEdit[],
  rangeIn: (path: string, span: Span) => Range | undefined,
): WorkspaceEdit {
  const byPath = new Map<string, TextEdit[]>();
  for (const { path, span, text } of edits) {
    const range = rangeIn(path, span);
    if (range === undefined) continue;
    const list = byPath.get(path) ?? [];
    byPath.set(path, list);
    const whole = session.store.text(path);
    list.push({ range, newText: inLineEnds(text, whole && 'text' in whole ? whole.text : '') });
  }
  if (session.client.workspace?.workspaceEdit?.documentChanges === true) {
    const documentChanges: TextDocumentEdit[] = [...byPath].map(([path, list]) => {
      const version = session.store.open.get(path)?.version ?? null;
      return { textDocument: { uri: session.uri(path), version }, edits: list };
    });
    return { documentChanges };
  }
  const changes = [...byPath].map(([path, list]) => [session.uri(path), list] as const);
  return { changes: Object.fromEntries(changes) };
}

/** A written text with the line ends of the text that it goes into. */
function inLineEnds(written: string, whole: string): string {
  if (!written.includes('\n')) return written;
  const first = /\r\n|\n/.exec(whole)?.[0] ?? '\n';
  return written.replace(/\r?\n/g, first);
}
