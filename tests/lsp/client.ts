import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import {
  type CancellationToken,
  type ClientCapabilities,
  createProtocolConnection,
  type Diagnostic,
  type InitializeParams,
  type InitializeResult,
  type Message,
  type ProtocolConnection,
  type PublishDiagnosticsParams,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { wrongResult, wrongSent } from './shapes.js';

const SERVER = fileURLToPath(new URL('../../packages/lsp/bin/tiptoe-lsp.cjs', import.meta.url));

/** A client that can everything that the server makes use of, and takes findings as they come. */
export const ABLE: ClientCapabilities = {
  general: { positionEncodings: ['utf-16'] },
  window: { workDoneProgress: true },
  workspace: {
    workspaceFolders: true,
    configuration: true,
    didChangeConfiguration: { dynamicRegistration: true },
    didChangeWatchedFiles: { dynamicRegistration: true },
    workspaceEdit: { documentChanges: true },
    fileOperations: { willRename: true, didRename: true, didCreate: true, didDelete: true },
    diagnostics: { refreshSupport: true },
  },
  textDocument: {
    synchronization: { didSave: true },
    publishDiagnostics: {
      versionSupport: true,
      relatedInformation: true,
      dataSupport: true,
      tagSupport: { valueSet: [1, 2] },
    },
    hover: { contentFormat: ['markdown', 'plaintext'] },
    definition: { linkSupport: true },
    documentSymbol: { hierarchicalDocumentSymbolSupport: true },
    completion: { completionItem: { snippetSupport: true } },
    rename: { prepareSupport: true },
  },
};

/** As `ABLE`, asking for findings instead. */
export const PULLING: ClientCapabilities = {
  ...ABLE,
  textDocument: { ...ABLE.textDocument, diagnostic: { relatedDocumentSupport: true } },
};

export interface StartOptions {
  readonly capabilities?: ClientCapabilities;
  /** URIs of the folders of the workspace. */
  readonly folders?: readonly string[];
  readonly initializationOptions?: unknown;
  /** What the client answers when asked for its section `tiptoe`. */
  readonly configuration?: unknown;
  readonly processId?: number | null;
  /** Arguments of Node in front of the server's own. */
  readonly nodeArguments?: readonly string[];
  readonly environment?: NodeJS.ProcessEnv;
}

/** A second client: it speaks to the real process, and holds every message to its shape. */
export class Client {
  readonly faults: string[] = [];
  readonly published: PublishDiagnosticsParams[] = [];
  readonly sent: { method: string; params: unknown }[] = [];
  readonly opened = new Map<string, { version: number; text: string }>();
  configuration: unknown;
  initialized: InitializeResult | undefined;
  stderr = '';
  readonly #waiting = new Set<() => void>();
  readonly #asked = new Map<number | string, string>();

  private constructor(
    readonly process: ChildProcess,
    readonly connection: ProtocolConnection,
  ) {}

  static connect(child: ChildProcess): Client {
    const { stdin, stdout, stderr } = child;
    if (stdin === null || stdout === null) throw new Error('the server has no pipes');
    const holder: { client?: Client } = {};
    const reader = new StreamMessageReader(stdout);
    const listen = reader.listen.bind(reader);
    reader.listen = (callback) =>
      listen((message) => {
        holder.client?.take(message);
        callback(message);
      });
    const writer = new StreamMessageWriter(stdin);
    const write = writer.write.bind(writer);
    writer.write = (message) => {
      const { id, method } = message as { id?: number | string; method?: string };
      if (id !== undefined && method !== undefined) holder.client?.asks(id, method);
      // A client that has hung up says nothing more; what was on its way is lost.
      if (!stdin.writable) return Promise.resolve();
      return write(message).catch((error: unknown) => {
        if (stdin.writable) throw error;
      });
    };
    const client = new Client(child, createProtocolConnection(reader, writer));
    holder.client = client;
    stderr?.setEncoding('utf8').on('data', (text: string) => (client.stderr += text));
    // A server that is gone breaks the pipe; what the test waits for says so.
    stdin.on('error', () => undefined);
    child.on('exit', () => client.#wake());
    client.#answer();
    client.connection.listen();
    return client;
  }

  static spawn(options: StartOptions = {}): Client {
    const args = [...(options.nodeArguments ?? []), SERVER, '--stdio'];
    const env = { ...process.env, ...options.environment };
    const client = Client.connect(spawn(process.execPath, args, { stdio: 'pipe', env }));
    client.configuration = options.configuration ?? null;
    return client;
  }

  static async start(options: StartOptions = {}): Promise<Client> {
    const client = Client.spawn(options);
    await client.initialize(options);
    return client;
  }

  async initialize(options: StartOptions = {}): Promise<InitializeResult> {
    const folders = options.folders ?? [];
    const params: InitializeParams = {
      processId: options.processId ?? null,
      // eslint-disable-next-line @typescript-eslint/no-deprecated -- the protocol still asks for it
      rootUri: null,
      capabilities: options.capabilities ?? ABLE,
      workspaceFolders: folders.map((uri) => ({ uri, name: uri })),
      initializationOptions: options.initializationOptions,
    };
    this.initialized = await this.request<InitializeResult>('initialize', params);
    this.notify('initialized', {});
    return this.initialized;
  }

  request<R = unknown>(method: string, params: unknown, token?: CancellationToken): Promise<R> {
    return token === undefined
      ? this.connection.sendRequest<R>(method, params)
      : this.connection.sendRequest<R>(method, params, token);
  }

  notify(method: string, params: unknown): void {
    void this.connection.sendNotification(method, params);
  }

  open(uri: string, text: string, version = 1): void {
    this.opened.set(uri, { version, text });
    const textDocument = { uri, languageId: 'tiptoe', version, text };
    this.notify('textDocument/didOpen', { textDocument });
  }

  /** Tells a change, and the version that it makes. */
  change(uri: string, ...contentChanges: readonly object[]): number {
    const document = this.opened.get(uri);
    if (document === undefined) throw new Error(`${uri} is not open`);
    const version = ++document.version;
    this.notify('textDocument/didChange', { textDocument: { uri, version }, contentChanges });
    return version;
  }

  close(uri: string): void {
    this.opened.delete(uri);
    this.notify('textDocument/didClose', { textDocument: { uri } });
  }

  /** What the server last told of a document. */
  shown(uri: string): PublishDiagnosticsParams | undefined {
    return this.published.filter((each) => each.uri === uri).at(-1);
  }

  /** Waits until the findings of a document are of a version, or whatever is asked of them. */
  async findings(
    uri: string,
    fit: number | ((params: PublishDiagnosticsParams) => boolean),
  ): Promise<Diagnostic[]> {
    const fits = typeof fit === 'number' ? (told: PublishDiagnosticsParams) => told.version === fit : fit; // prettier-ignore
    let told: PublishDiagnosticsParams | undefined;
    await this.until(() => {
      told = this.shown(uri);
      return told !== undefined && fits(told);
    });
    return told?.diagnostics ?? [];
  }

  /** Waits for a condition, looked at after every message. Fails where the server is gone first. */
  async until(condition: () => boolean): Promise<void> {
    while (!condition()) {
      if (this.process.exitCode !== null) throw new Error(`the server is gone: ${this.stderr}`);
      await new Promise<void>((resolve) => this.#waiting.add(resolve));
    }
  }

  /** The exit code, once the process has ended. */
  async exited(): Promise<number | null> {
    if (this.process.exitCode === null && this.process.signalCode === null) {
      await once(this.process, 'exit');
    }
    return this.process.exitCode;
  }

  /** Shuts the server down as the protocol asks for. Fails where a message had a wrong shape. */
  async stop(): Promise<number | null> {
    await this.request('shutdown', undefined);
    this.notify('exit', undefined);
    const code = await this.exited();
    this.connection.dispose();
    if (this.faults.length > 0) throw new Error(this.faults.join('\n'));
    return code;
  }

  asks(id: number | string, method: string): void {
    this.#asked.set(id, method);
  }

  take(message: Message): void {
    const { id, method, params, result, error } = message as {
      id?: number | string;
      method?: string;
      params?: unknown;
      result?: unknown;
      error?: { code: number; message: string };
    };
    if (method !== undefined) {
      this.sent.push({ method, params });
      this.#fault(method, wrongSent(method, params));
      if (method === 'textDocument/publishDiagnostics') {
        this.published.push(params as PublishDiagnosticsParams);
      }
    } else if (id !== undefined && error === undefined) {
      const asked = this.#asked.get(id) ?? '';
      this.#fault(asked, wrongResult(asked, result));
    } else if (
      error !== undefined &&
      (!Number.isInteger(error.code) || typeof error.message !== 'string')
    ) {
      // prettier-ignore
      this.faults.push(`an error without code or message: ${JSON.stringify(error)}`);
    }
    this.#wake();
  }

  #fault(method: string, wrong: string | undefined): void {
    if (wrong !== undefined) this.faults.push(`${method}: ${wrong}`);
  }

  #wake(): void {
    // After the connection has handed the message on.
    setImmediate(() => {
      const waiting = [...this.#waiting];
      this.#waiting.clear();
      for (const resolve of waiting) resolve();
    });
  }

  #answer(): void {
    const { connection } = this;
    connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) =>
      items.map(() => this.configuration),
    );
    for (const method of [
      'client/registerCapability',
      'client/unregisterCapability',
      'window/workDoneProgress/create',
      'workspace/diagnostic/refresh',
    ]) {
      // prettier-ignore
      connection.onRequest(method, () => null);
    }
  }
}
