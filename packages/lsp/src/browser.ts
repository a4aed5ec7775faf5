import {
  BrowserMessageReader,
  BrowserMessageWriter,
  createProtocolConnection,
} from 'vscode-languageserver-protocol/browser';
import type { Host } from './host.js';
import { messages } from './messages.js';
import { startServer } from './server.js';

/** The global object of a web worker, as far as the server needs it. */
declare const self: DedicatedWorkerGlobalScope;

/** Serves the page that started this worker. */
const channel = new MessageChannel();
const due: (() => void)[] = [];
channel.port1.onmessage = () => due.shift()?.();

const host: Host = {
  now: () => performance.now(),
  // A port has no least delay, as timers in timers have.
  defer(run) {
    due.push(run);
    channel.port2.postMessage(0);
  },
  // Messages wait in timers.
  deferBehindMessages: (run) => void setTimeout(run, 0),
  files: undefined,
  exit: () => self.close(),
};

const strategy = messages();
const connection = createProtocolConnection(
  new BrowserMessageReader(self),
  new BrowserMessageWriter(self),
  undefined,
  strategy.options,
);
strategy.attach(startServer(connection, host).work);
