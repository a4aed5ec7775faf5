import { type ChildProcess, fork, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { createServer, type Socket } from 'node:net';
import { fileURLToPath } from 'node:url';
import { afterEach, describe, expect, test } from 'vitest';
import {
  createProtocolConnection,
  IPCMessageReader,
  IPCMessageWriter,
  StreamMessageReader,
  StreamMessageWriter,
} from 'vscode-languageserver-protocol/node';
import { Client } from './client.js';
import { GAME } from './folder.js';

const SERVER = fileURLToPath(new URL('../../packages/lsp/bin/tiptoe-lsp.cjs', import.meta.url));

const children: ChildProcess[] = [];
afterEach(() => {
  for (const child of children.splice(0)) child.kill('SIGKILL');
});

function spawned(): Client {
  const client = Client.spawn();
  children.push(client.process);
  return client;
}

/** Codes: JSON-RPC 2.0, section 5.1, and LSP 3.17, "Base types: error codes". */
const NOT_INITIALIZED = -32002;
const INVALID = -32600;
const UNKNOWN = -32601;

describe('the life of the server', () => {
  test('begins with initialize, and ends with 0 after shutdown and exit', async () => {
    const client = spawned();
    const { capabilities, serverInfo } = await client.initialize();
    expect(serverInfo?.name).toBe('tiptoe-lsp');
    expect(capabilities.textDocumentSync).toMatchObject({ openClose: true, change: 2 });
    expect(await client.stop()).toBe(0);
    expect(client.stderr).toBe('');
  });

  test('answers nothing before initialize', async () => {
    const client = spawned();
    const early = client.request('textDocument/hover', {
      textDocument: { uri: 'file:///a.tiptoe' },
      position: { line: 0, character: 0 },
    });
    await expect(early).rejects.toMatchObject({ code: NOT_INITIALIZED });
    client.open('file:///a.tiptoe', 'route r { 4 }');
    await client.initialize();
    // What was told before was not taken either.
    const late = { textDocument: { uri: 'file:///a.tiptoe' }, position: { line: 0, character: 0 } };
    expect(await client.request('textDocument/hover', late)).toBeNull();
    expect(await client.stop()).toBe(0);
  });

  test('takes initialize once', async () => {
    const client = spawned();
    await client.initialize();
    await expect(client.initialize()).rejects.toMatchObject({ code: INVALID });
    expect(await client.stop()).toBe(0);
  });

  test('answers nothing after shutdown', async () => {
    const client = spawned();
    await client.initialize();
    await client.request('shutdown', undefined);
    const late = client.request('workspace/symbol', { query: '' });
    await expect(late).rejects.toMatchObject({ code: INVALID });
    client.notify('exit', undefined);
    expect(await client.exited()).toBe(0);
  });

  test('ends with 1 on exit without shutdown', async () => {
    const client = spawned();
    await client.initialize();
    client.notify('exit', undefined);
    expect(await client.exited()).toBe(1);
  });

  test('refuses what it does not know', async () => {
    const client = spawned();
    await client.initialize();
    const asked = client.request('textDocument/nonsense', {});
    await expect(asked).rejects.toMatchObject({ code: UNKNOWN });
    client.notify('textDocument/nonsense', {});
    client.notify('$/nonsense', {});
    expect(await client.stop()).toBe(0);
  });

  test('outlives wrong parameters', async () => {
    const client = spawned();
    await client.initialize();
    for (const params of [{}, null, [], { textDocument: 4 }, { textDocument: { uri: 'a b' } }]) {
      const asked = client.request('textDocument/hover', params);
      const code = await asked.then(
        (answer) => (answer === null ? 0 : 1),
        (error: unknown) => (error as { code: number }).code,
      );
      expect(code).toBeLessThanOrEqual(0);
    }
    expect(await client.stop()).toBe(0);
  });
});

describe('no server is left over', () => {
  test('when the pipe ends', async () => {
    const client = spawned();
    await client.initialize();
    client.process.stdin?.end();
    expect(await client.exited()).toBe(1);
  });

  test('when the pipe ends before a word was said', async () => {
    const client = spawned();
    client.process.stdin?.end();
    expect(await client.exited()).toBe(1);
  });

  test('when the process of the client is gone, though the pipe is not', async () => {
    const editor = spawn(process.execPath, ['-e', 'process.stdin.resume()'], { stdio: 'pipe' });
    children.push(editor);
    const client = spawned();
    await client.initialize({ processId: editor.pid ?? 0 });
    editor.kill('SIGKILL');
    await once(editor, 'exit');
    expect(await client.exited()).toBe(1);
  });

  test('when the client crashes in the middle of a message', async () => {
    const client = spawned();
    await client.initialize();
    client.open('untitled:a', GAME);
    client.process.stdin?.write('Content-Length: 1000\r\n\r\n{"jsonrpc":');
    client.process.stdin?.destroy();
    expect(await client.exited()).toBe(1);
  });
});

describe('the command', () => {
  const run = (...args: string[]) => {
    const { status, stdout, stderr } = spawnSync(process.execPath, [SERVER, ...args], {
      encoding: 'utf8',
      input: '',
    });
    return { status, stdout, stderr };
  };

  test('tells its version and its usage', () => {
    expect(run('--version')).toMatchObject({ status: 0, stderr: '' });
    expect(run('--version').stdout).toMatch(/^\d+\.\d+\.\d+\n$/);
    expect(run('--help').stdout).toContain('--stdio');
  });

  test.each([
    [[], 'nothing says how to speak'],
    [['--nonsense'], '--nonsense: there is no such option'],
    [['stdio'], 'stdio: there is no such option'],
    [['--socket'], '--socket: a port is a number from 1 to 65535'],
    [['--socket=0'], '--socket: a port is a number'],
    [['--socket', '65536'], '--socket: a port is a number'],
    [['--node-ipc'], 'no Node process started this one'],
    [['--stdio', '--clientProcessId=x'], 'it is no process id'],
  ])('refuses %j with exit code 2', (args, words) => {
    const { status, stdout, stderr } = run(...args);
    expect({ status, stdout }).toEqual({ status: 2, stdout: '' });
    expect(stderr).toContain(words);
  });

  test('speaks over the channel of Node', async () => {
    const child = fork(SERVER, ['--node-ipc'], { stdio: 'pipe' });
    children.push(child);
    const connection = createProtocolConnection(
      new IPCMessageReader(child),
      new IPCMessageWriter(child),
    );
    connection.listen();
    const params = { processId: null, rootUri: null, capabilities: {} };
    const answer = await connection.sendRequest<{ serverInfo: { name: string } }>('initialize', params); // prettier-ignore
    expect(answer.serverInfo.name).toBe('tiptoe-lsp');
    const exited = once(child, 'exit');
    child.disconnect();
    expect(await exited).toEqual([1, null]);
  });

  test('speaks over a port on which the client listens', async () => {
    const listener = createServer().listen(0, '127.0.0.1');
    await once(listener, 'listening');
    const address = listener.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    const child = spawn(process.execPath, [SERVER, `--socket=${port}`], { stdio: 'pipe' });
    children.push(child);
    const [socket] = (await once(listener, 'connection')) as [Socket];
    const connection = createProtocolConnection(
      new StreamMessageReader(socket),
      new StreamMessageWriter(socket),
    );
    connection.listen();
    const params = { processId: null, rootUri: null, capabilities: {} };
    await connection.sendRequest('initialize', params);
    await connection.sendRequest('shutdown');
    const exited = once(child, 'exit');
    await connection.sendNotification('exit');
    expect(await exited).toEqual([0, null]);
    listener.close();
  });

  test('says where it found nobody listening', async () => {
    const listener = createServer().listen(0, '127.0.0.1');
    await once(listener, 'listening');
    const address = listener.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    listener.close();
    await once(listener, 'close');
    const { status, stderr } = run(`--socket=${port}`);
    expect(status).toBe(2);
    expect(stderr).toContain('ECONNREFUSED');
  });
});
