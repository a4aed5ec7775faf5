import type { FileSpan } from '@tiptoe/notation-core/ide/analysis';
import type {
  CancellationToken,
  ClientCapabilities,
  Location,
  ProtocolConnection,
  ProtocolRequestType,
  ProtocolRequestType0,
  RequestHandler,
} from 'vscode-languageserver-protocol';
import {
  ErrorCodes,
  LogMessageNotification,
  LSPErrorCodes,
  MessageType,
  ResponseError,
} from 'vscode-languageserver-protocol';
import type { Files, Host } from './host.js';
import type { Encoding } from './positions.js';
import { Projects } from './projects.js';
import { isSettings } from './settings.js';
import { isSearched } from './notes.js';
import { Store } from './store.js';
import { isInside, pathOf, uriOf } from './uris.js';
import { View } from './view.js';
import { Dropped, type Steps, type Urgency, type Wanted, Work } from './work.js';

/** A handler's answer: at once, in steps that can be interrupted, or later. */
export type Answer<R> = R | Steps<R> | Promise<R>;

/** Something that begins once and stays so. */
class Gate {
  open: () => void = () => undefined;
  readonly opened = new Promise<void>((resolve) => {
    this.open = resolve;
  });
}

/** Everything between `initialize` and `exit`. */
export class Session {
  readonly work: Work;
  readonly store = new Store();
  readonly projects: Projects;
  state: 'new' | 'running' | 'shutdown' = 'new';
  client: ClientCapabilities = {};
  encoding: Encoding = 'utf-16';
  /** Where files are read and found; undefined where nobody can. */
  files: Files | undefined;
  /** Folders of the workspace by path, with the URI that the client gave. */
  readonly folders = new Map<string, string>();
  /** Ends once the client's settings are known; nothing is looked at before. */
  readonly configured = new Gate();
  /** Ends once the folders have been searched for notes. */
  searched: Promise<void> = Promise.resolve();
  /** Called whenever findings may have changed. */
  readonly onChange: (() => void)[] = [];
  /** Called as well where that has another reason than an edit, which the client knows of. */
  readonly onElsewhere: (() => void)[] = [];
  progressCount = 0;

  constructor(
    readonly connection: ProtocolConnection,
    readonly host: Host,
  ) {
    this.work = new Work(host);
    this.files = host.files;
    const nobody = { reason: 'there is no such file' };
    this.projects = new Projects(this.store, this.work, (path) => this.files?.read(path) ?? nobody);
  }

  /** Whether a path is one of the workspace's. */
  inFolders(path: string): boolean {
    return [...this.folders.keys()].some((folder) => isInside(path, folder) && isSearched(path, folder)); // prettier-ignore
  }

  /** Whether the client asks for findings; then they are not sent besides. */
  get pulls(): boolean {
    return this.client.textDocument?.diagnostic !== undefined;
  }

  changed(elsewhere = false): void {
    for (const listener of this.onChange) listener();
    if (elsewhere) for (const listener of this.onElsewhere) listener();
  }

  /** The files that have findings: open ones, the last one first, then the other notes. */
  reported(): Set<string> {
    const open = [...this.store.open.keys()].filter((path) => this.#reports(path)).reverse();
    return new Set([...open, ...this.projects.notes, ...this.projects.settingsFiles]);
  }

  #reports(path: string): boolean {
    return this.projects.has(path) || isSettings(path);
  }

  /** The notes that use a file, or use what uses it. */
  dependants(path: string): string[] {
    const found = new Set([path]);
    for (const each of found) {
      for (const note of this.projects.notes) {
        const file = this.projects.projectOf(note)?.current?.file(note);
        if (file?.uses.some((use) => use.path === each) === true) found.add(note);
      }
    }
    found.delete(path);
    return [...found];
  }

  /** Tells the client's log of a fault of the server. Nothing is lost but what was asked for. */
  complain(where: string, error: unknown): void {
    const words = error instanceof Error ? (error.stack ?? error.message) : String(error);
    this.log(MessageType.Error, `tiptoe, ${where}: ${words}`);
  }

  /** What cannot be sent has nobody to read it: that the client is gone is seen elsewhere. */
  tell(sending: Promise<void>): void {
    sending.catch(() => undefined);
  }

  /** Asks the client to do something, and does not wait for it. */
  ask<R, PR, E, RO>(type: ProtocolRequestType0<R, PR, E, RO>): void {
    this.connection.sendRequest(type).catch((error: unknown) => this.complain(type.method, error));
  }

  log(type: MessageType, message: string): void {
    if (this.state === 'shutdown') return;
    this.tell(this.connection.sendNotification(LogMessageNotification.type, { type, message }));
  }

  /** The URI of a path, spelt as the client spells it where it has done so. */
  uri(path: string): string {
    return this.store.open.get(path)?.uri ?? uriOf(path);
  }

  /** Waits until the notes of all folders are known. */
  async everyNote(): Promise<void> {
    await this.configured.opened;
    await this.searched;
  }

  /** Brings all projects up to date. */
  async settle(urgency: Urgency, wanted?: Wanted): Promise<void> {
    await this.configured.opened;
    await this.projects.settle(urgency, wanted);
  }

  /** The files as they are now; undefined where nothing is known of the document. */
  async view(uri: string, urgency: Urgency, wanted?: Wanted): Promise<View | undefined> {
    const path = pathOf(uri);
    await this.settle(urgency, wanted);
    return this.viewNow(path);
  }

  /** As `view`, of what is settled already. */
  viewNow(path: string): View | undefined {
    const analysis = this.analysisOf(path);
    const file = analysis?.file(path);
    return analysis === undefined || file === undefined
      ? undefined
      : new View(this, analysis, file);
  }

  analysisOf(path: string): View['analysis'] | undefined {
    const own = this.projects.projectOf(path)?.current;
    if (own !== undefined) return own;
    // A file that is only used belongs to whoever uses it.
    for (const { current } of this.projects.all) {
      if (current?.file(path) !== undefined) return current;
    }
    return undefined;
  }

  /** A place in any settled file. */
  locate({ path, start, end }: FileSpan): Location | undefined {
    return this.viewNow(path)?.location({ path, start, end });
  }

  /** Every analysis that holds a file: projects with settings of their own may share it. */
  analysesWith(path: string): View['analysis'][] {
    return [...this.projects.all].flatMap(({ current }) =>
      current?.file(path) === undefined ? [] : [current],
    );
  }

  /** Answers a request about one document: null where the document is not known. */
  about<P extends { textDocument: { uri: string } }, R, PR, E, RO>(
    type: ProtocolRequestType<P, R, PR, E, RO>,
    handler: (view: View, params: P, token: CancellationToken) => Answer<R | null>,
  ): void {
    this.on(type, async (params, token) => {
      const view = await this.view(params.textDocument.uri, 'answer', token);
      if (view === undefined) return null;
      return this.finish(handler(view, params, token), token);
    });
  }

  /** Answers a request. What it throws as `Dropped` is told as cancelled. */
  on<P, R, PR, E, RO>(
    type: ProtocolRequestType<P, R, PR, E, RO>,
    handler: (params: P, token: CancellationToken) => Answer<R>,
  ): void {
    const handle = async (params: P, token: CancellationToken): Promise<R | ResponseError<E>> => {
      const refused = this.#refusal();
      if (refused !== undefined) return refused;
      try {
        return await this.finish(handler(params, token), token);
      } catch (error) {
        if (error instanceof Dropped) {
          return new ResponseError<E>(LSPErrorCodes.RequestCancelled, 'cancelled');
        }
        throw error;
      }
    };
    this.connection.onRequest(type, handle as RequestHandler<P, R, E>);
  }

  async finish<R>(answer: Answer<R>, token: CancellationToken): Promise<R> {
    if (isSteps(answer)) return this.work.run(answer, 'answer', token);
    return answer;
  }

  #refusal(): ResponseError<never> | undefined {
    if (this.state === 'running') return undefined;
    return this.state === 'new'
      ? new ResponseError(ErrorCodes.ServerNotInitialized, 'The server waits for initialize.')
      : new ResponseError(ErrorCodes.InvalidRequest, 'The server is shut down.');
  }
}

function isSteps<R>(answer: Answer<R>): answer is Steps<R> {
  return typeof answer === 'object' && answer !== null && 'next' in answer && 'return' in answer;
}
