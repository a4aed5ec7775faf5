import { Worker } from 'node:worker_threads';
import { build } from 'esbuild';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  createProtocolConnection,
  type DataCallback,
  type Message,
  type ProtocolConnection,
} from 'vscode-languageserver-protocol/node';
import { browser } from '../../packages/lsp/scripts/bundle.mjs';
import { ABLE, PULLING } from './client.js';
import { GAME } from './folder.js';

/** A thread that has what a web worker has, and nothing of Node. */
const WORKER = `
  const { parentPort, workerData } = require('node:worker_threads');
  const { createContext, runInContext } = require('node:vm');
  const self = Object.assign(new EventTarget(), {
    postMessage: (data) => parentPort.postMessage(data),
    close: () => parentPort.close(),
  });
  parentPort.on('message', (data) => {
    self.onmessage?.(Object.assign(new Event('message'), { data }));
  });
  const has = { self, MessageChannel, performance, setTimeout, clearTimeout, setInterval,
    clearInterval, queueMicrotask, console, TextEncoder, TextDecoder, URL, crypto };
  runInContext(workerData, createContext(has));
`;

class Reader extends AbstractMessageReader {
  constructor(readonly worker: Worker) {
    super();
  }
  listen(callback: DataCallback) {
    this.worker.on('message', callback);
    return { dispose: () => void this.worker.off('message', callback) };
  }
}

class Writer extends AbstractMessageWriter {
  constructor(readonly worker: Worker) {
    super();
  }
  write(message: Message): Promise<void> {
    this.worker.postMessage(message);
    return Promise.resolve();
  }
  end(): void {
    // A worker has no end of messages.
  }
}

let code: string;
let worker: Worker | undefined;

beforeAll(async () => {
  const { outputFiles } = await build({ ...browser, write: false });
  code = outputFiles[0]?.text ?? '';
});

afterEach(async () => {
  await worker?.terminate();
});

function connect(): ProtocolConnection {
  worker = new Worker(WORKER, { eval: true, workerData: code });
  const connection = createProtocolConnection(new Reader(worker), new Writer(worker));
  connection.listen();
  connection.onRequest('workspace/configuration', ({ items }: { items: unknown[] }) =>
    items.map(() => null),
  );
  for (const method of [
    'client/registerCapability',
    'window/workDoneProgress/create',
    'workspace/diagnostic/refresh',
  ]) {
    // prettier-ignore
    connection.onRequest(method, () => null);
  }
  return connection;
}

const FOLDER = 'memfs://store/notes';

async function initialize(connection: ProtocolConnection, capabilities: object, options?: object) {
  const result = await connection.sendRequest('initialize', {
    processId: null,
    rootUri: null,
    capabilities,
    workspaceFolders: [{ uri: FOLDER, name: 'notes' }],
    initializationOptions: options,
  });
  void connection.sendNotification('initialized', {});
  return result;
}

describe('the server in a worker', () => {
  test('says the same of itself, and publishes findings', async () => {
    const connection = connect();
    const told = new Promise<{ version?: number; diagnostics: { code: string }[] }>((resolve) => {
      connection.onNotification('textDocument/publishDiagnostics', resolve);
    });
    expect(await initialize(connection, ABLE)).toMatchObject({
      serverInfo: { name: 'tiptoe-lsp' },
      capabilities: { hoverProvider: true },
    });
    const textDocument = { uri: `${FOLDER}/a.tiptoe`, languageId: 'tiptoe', version: 4, text: `${GAME}route hop { D }\n` }; // prettier-ignore
    void connection.sendNotification('textDocument/didOpen', { textDocument });
    const { version, diagnostics } = await told;
    expect(version).toBe(4);
    expect(diagnostics.map((each) => each.code)).toEqual(['undeclared-input']);
    expect(await connection.sendRequest('shutdown')).toBeNull();
  });

  test('reads what a note uses from a client that has the files', async () => {
    const connection = connect();
    const files: Record<string, string> = {
      [`${FOLDER}/a%20b.tiptoe`]: 'use "in/game.tiptoe"\nuse "gone.tiptoe"\nroute hop { D }\n',
      [`${FOLDER}/in/game.tiptoe`]: GAME,
    };
    connection.onRequest('tiptoe/findNotes', () => ({ uris: Object.keys(files) }));
    connection.onRequest('tiptoe/readFile', ({ uri }: { uri: string }): object => {
      const text = files[uri];
      return text === undefined ? { reason: 'there is no such file' } : { text };
    });
    await initialize(connection, PULLING, { files: true });
    const { items } = await connection.sendRequest<{
      items: { uri: string; items: { code: string }[] }[];
    }>('workspace/diagnostic', { previousResultIds: [] });
    const codes = items.map(({ uri, items: own }) => [uri, own.map(({ code: each }) => each)]);
    expect(Object.fromEntries(codes)).toEqual({
      [`${FOLDER}/a%20b.tiptoe`]: ['use-not-found', 'undeclared-input'],
      [`${FOLDER}/in/game.tiptoe`]: [],
    });
  });
});
