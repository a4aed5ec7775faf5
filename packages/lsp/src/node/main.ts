import { connect, type Socket } from 'node:net';
import {
  createProtocolConnection,
  IPCMessageReader,
  IPCMessageWriter,
  type MessageReader,
  type MessageWriter,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import type { Host } from '../host.js';
import { messages } from '../messages.js';
import { startServer } from '../server.js';
import { version } from '../version.js';
import { diskFiles } from './files.js';

const USAGE = `Usage: tiptoe-lsp --stdio | --node-ipc | --socket=PORT

A language server for Tiptoe notes. An editor starts it and speaks to it by the Language Server
Protocol: over standard input and output, over the channel of a Node process that started it, or
over a port of this machine on which the editor listens.

  --clientProcessId=ID   ends with the process of this number, as initialize can say too
  --version              says which version this is
  --help                 shows this
`;

interface Wish {
  readonly over: 'stdio' | 'ipc' | { readonly port: number };
  readonly client: number | undefined;
}

/** Starts the server that the arguments ask for. Wrong usage ends with exit code 2. */
export function main(args: readonly string[]): void {
  if (args.includes('--help')) {
    say(USAGE, 0);
    return;
  }
  if (args.includes('--version')) {
    say(`${version}\n`, 0);
    return;
  }
  const wish = wishOf(args);
  if (typeof wish === 'string') {
    say(`tiptoe-lsp: ${wish}\n`, 2);
    return;
  }
  const { over } = wish;
  if (over === 'ipc') {
    if (process.send === undefined) {
      say('tiptoe-lsp: --node-ipc: no Node process started this one. Use --stdio.\n', 2);
      return;
    }
    process.on('disconnect', () => leave());
    serve(new IPCMessageReader(process), new IPCMessageWriter(process), wish.client);
  } else if (over === 'stdio') {
    // What anything prints would break the messages.
    console.log = console.info = console.debug = console.error;
    const { stdin, stdout } = process;
    stdin.on('end', () => leave());
    stdin.on('close', () => leave());
    stdout.on('error', () => leave());
    serve(new StreamMessageReader(stdin), new StreamMessageWriter(stdout), wish.client);
  } else {
    const socket: Socket = connect(over.port, '127.0.0.1');
    socket.on('error', ({ message }) => {
      process.stderr.write(`tiptoe-lsp: --socket=${over.port}: ${message}\n`);
      process.exit(2);
    });
    socket.on('close', () => leave());
    socket.on('connect', () => {
      serve(new StreamMessageReader(socket), new StreamMessageWriter(socket), wish.client);
    });
  }
}

function say(text: string, code: 0 | 2): void {
  (code === 0 ? process.stdout : process.stderr).write(text);
  process.exitCode = code;
}

function wishOf(args: readonly string[]): Wish | string {
  let over: Wish['over'] | undefined;
  let client: number | undefined;
  for (let at = 0; at < args.length; at++) {
    const [, name = '', joined] = /^(--[A-Za-z-]+)(?:=(.*))?$/.exec(args[at] ?? '') ?? [];
    const value = (): number => Number(joined ?? args[++at] ?? '');
    if (name === '--stdio') over = 'stdio';
    else if (name === '--node-ipc') over = 'ipc';
    else if (name === '--socket') {
      const port = value();
      if (!Number.isInteger(port) || port < 1 || port > 65535) {
        return '--socket: a port is a number from 1 to 65535. Write --socket=9000, for example.';
      }
      over = { port };
    } else if (name === '--clientProcessId') {
      client = value();
      if (!Number.isInteger(client) || client < 1) return '--clientProcessId: it is no process id.';
    } else return `${args[at] ?? ''}: there is no such option. See --help.`;
  }
  if (over === undefined) return 'nothing says how to speak: use --stdio, --node-ipc or --socket=PORT. See --help.'; // prettier-ignore
  return { over, client };
}

let ended: () => 0 | 1 = () => 1;

/** The client is gone. */
function leave(): void {
  process.exit(ended());
}

function serve(reader: MessageReader, writer: MessageWriter, client: number | undefined): void {
  const host: Host = {
    now: () => performance.now(),
    defer: (run) => void setImmediate(run),
    deferBehindMessages: (run) => void setImmediate(run),
    files: diskFiles,
    watchClient,
    // What was written last is on its way through the pipe.
    exit: (code) => void setImmediate(() => process.exit(code)),
  };
  const strategy = messages();
  const connection = createProtocolConnection(reader, writer, undefined, strategy.options);
  const session = startServer(connection, host);
  strategy.attach(session.work);
  ended = () => (session.state === 'shutdown' ? 0 : 1);
  if (client !== undefined) watchClient(client);
}

/** Milliseconds between two looks whether the client is there. */
const WATCH = 1000;

function watchClient(processId: number): void {
  const timer = setInterval(() => {
    try {
      process.kill(processId, 0);
    } catch (error) {
      // EPERM: it is there, and not ours.
      if ((error as NodeJS.ErrnoException).code === 'ESRCH') leave();
    }
  }, WATCH);
  timer.unref();
}
