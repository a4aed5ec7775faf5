/** What the server needs of the place that it runs in. */
export interface Host {
  /** Milliseconds of a clock that never goes back. */
  now(): number;
  /** Runs something once what has arrived meanwhile was looked at. */
  defer(run: () => void): void;
  /** Like `defer`, behind the messages that already wait to be handled. */
  deferBehindMessages(run: () => void): void;
  /** The files of the machine; undefined where only the client has them. */
  readonly files: Files | undefined;
  /** Called when the client says who it is, so that the server goes when the client is gone. */
  watchClient?(processId: number): void;
  /** Ends the process, where there is one. */
  exit(code: 0 | 1): void;
}

/** The text of a file, or why there is none in words that finish "FILE: …". */
export type FileText = { readonly text: string } | { readonly reason: string };

/** Paths are those of `uris.ts`. Neither method throws. */
export interface Files {
  read(path: string): FileText | Promise<FileText>;
  /** The notes in a folder and below, some at a time, without what the command line leaves out. */
  list(folder: string): AsyncIterable<readonly string[]>;
}
