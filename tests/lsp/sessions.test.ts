import { afterEach, describe, expect, test } from 'vitest';
import { CancellationTokenSource, type SemanticTokens } from 'vscode-languageserver-protocol';
import { ABLE, Client, PULLING, type StartOptions } from './client.js';
import { folderWith, GAME } from './folder.js';

let client: Client | undefined;

async function start(options?: StartOptions): Promise<Client> {
  client = await Client.start(options);
  return client;
}

afterEach(async () => {
  const left = client;
  client = undefined;
  if (left !== undefined) expect(await left.stop()).toBe(0);
});

const speaking = (...positionEncodings: string[]): StartOptions => ({
  capabilities: { ...ABLE, general: { positionEncodings } },
});

/** LSP 3.17, LSPErrorCodes.RequestCancelled. */
const CANCELLED = -32800;

describe.each([
  ['utf-8', 4, 3],
  ['utf-16', 2, 1],
  ['utf-32', 1, 1],
])('a client that counts in %s', (encoding, fox, arrow) => {
  const line = '  L "go 🦊 →" D';
  /** The column of D: what stands in front of it without the fox and the arrow are 11. */
  const column = 11 + fox + arrow;
  const text = `${GAME}route hop {\n${line}\n}\n`;

  test('is told places by its count', async () => {
    const c = await start(speaking(encoding));
    expect(c.initialized?.capabilities.positionEncoding).toBe(encoding);
    c.open('untitled:a', text);
    const [finding] = await c.findings('untitled:a', 1);
    expect(finding?.range).toEqual({
      start: { line: 11, character: column },
      end: { line: 11, character: column + 1 },
    });
  });

  test('is understood by its count', async () => {
    const c = await start(speaking(encoding));
    c.open('untitled:a', text);
    const range = {
      start: { line: 11, character: column },
      end: { line: 11, character: column + 1 },
    };
    const version = c.change('untitled:a', { range, text: 'R "🦊"' });
    expect(await c.findings('untitled:a', version)).toEqual([]);
  });

  test('gets tokens whose lengths it counts', async () => {
    const c = await start(speaking(encoding));
    c.open('untitled:a', text);
    const { data } = await c.request<SemanticTokens>('textDocument/semanticTokens/range', {
      textDocument: { uri: 'untitled:a' },
      range: { start: { line: 11, character: 0 }, end: { line: 11, character: column + 1 } },
    });
    const types = c.initialized?.capabilities.semanticTokensProvider?.legend.tokenTypes ?? [];
    const strings: number[] = [];
    for (let i = 0; i < data.length; i += 5) {
      if (types[data[i + 3] ?? -1] === 'string') strings.push(data[i + 2] ?? 0);
    }
    expect(strings).toEqual([6 + fox + arrow]);
  });
});

test('a client that names no encoding counts in UTF-16', async () => {
  const c = await start({ capabilities: {} });
  expect(c.initialized?.capabilities.positionEncoding).toBe('utf-16');
});

describe('edits', () => {
  const at = (line: number, from: number, to = from) => ({
    start: { line, character: from },
    end: { line, character: to },
  });
  const SYMBOLS = { textDocument: { uri: 'untitled:a' } };
  const names = async (c: Client): Promise<string[]> =>
    (await c.request<{ name: string }[]>('textDocument/documentSymbol', SYMBOLS)).map(({ name }) => name); // prettier-ignore

  test('of one message build on each other, whatever their order in the text', async () => {
    const c = await start();
    c.open('untitled:a', 'let aa = L\nlet bb = R\nlet cc = J\n');
    // Each range is of the text that the change before has left.
    c.change(
      'untitled:a',
      { range: at(2, 4, 6), text: 'third' },
      { range: at(0, 4, 6), text: 'first' },
      { range: at(0, 10), text: '\nlet zero = J' },
      { range: at(2, 4, 6), text: 'second' },
    );
    expect(await names(c)).toEqual(['first', 'zero', 'second', 'third']);
  });

  test('with their ends exchanged or beyond the text are taken for what they can mean', async () => {
    const c = await start();
    c.open('untitled:a', 'let aa = L\nlet bb = R');
    c.change('untitled:a', {
      range: { start: { line: 0, character: 6 }, end: { line: 0, character: 4 } },
      text: 'first',
    });
    c.change('untitled:a', { range: at(900, 900), text: '\nlet last = L' });
    expect(await names(c)).toEqual(['first', 'bb', 'last']);
  });

  test('of a document that is not open are left out, and said to be', async () => {
    const c = await start();
    c.notify('textDocument/didChange', {
      textDocument: { uri: 'untitled:x', version: 2 },
      contentChanges: [{ text: 'let aa = L' }],
    });
    await c.until(() => c.sent.some(({ method }) => method === 'window/logMessage'));
    c.open('untitled:a', 'let aa = L\n');
    expect(await names(c)).toEqual(['aa']);
  });

  test('keep CRLF, CR and LF apart', async () => {
    const c = await start();
    c.open('untitled:a', 'let aa = L\r\nlet bb = R\rlet cc = J\nlet dd = D');
    c.change('untitled:a', { range: at(3, 9, 10), text: 'L' });
    // A line end out of two becomes two, and one again.
    c.change('untitled:a', { range: { start: { line: 0, character: 10 }, end: { line: 1, character: 0 } }, text: '\r' }); // prettier-ignore
    c.change('untitled:a', { range: at(1, 4, 6), text: 'second' });
    c.change('untitled:a', { range: at(1, 0), text: '\n' });
    c.change('untitled:a', { range: at(1, 4, 10), text: 'bb' });
    expect(await names(c)).toEqual(['aa', 'bb', 'cc', 'dd']);
    const symbols = await c.request<{ range: unknown }[]>('textDocument/documentSymbol', SYMBOLS);
    expect(symbols.map(({ range }) => range)).toEqual([at(0, 0, 10), at(1, 0, 10), at(2, 0, 10), at(3, 0, 10)]); // prettier-ignore
  });

  test('of CRLF are answered in CRLF', async () => {
    const c = await start();
    c.open('untitled:a', 'let   aa = L\r\n\r\n\r\n\r\nlet bb = R\r\n');
    const options = { tabSize: 2, insertSpaces: true };
    const edits = await c.request<{ newText: string }[]>('textDocument/formatting', { ...SYMBOLS, options }); // prettier-ignore
    expect(edits).not.toEqual([]);
    for (const { newText } of edits) expect(newText).not.toMatch(/(?<!\r)\n/);
  });

  test('that come faster than findings are told for the last one', async () => {
    const c = await start();
    c.open('untitled:a', `${GAME}route hop { L }\n`);
    await c.findings('untitled:a', 1);
    let version = 1;
    for (let k = 0; k < 200; k++) {
      version = c.change('untitled:a', { range: at(10, 12), text: k % 2 === 0 ? 'D ' : 'R ' });
    }
    const findings = await c.findings('untitled:a', version);
    expect(findings.filter(({ code }) => code === 'undeclared-input').length).toBeGreaterThan(50);
    // Not each of them had findings of its own.
    expect(c.published.length).toBeLessThan(150);
  });
});

describe('requests', () => {
  const routes = (count: number): string =>
    GAME +
    Array.from({ length: count }, (_, k) => `route r${k} {\n  L3 [J1] (R J)*3 . L4\n}\n`).join('');
  const many = (count: number) =>
    Object.fromEntries(Array.from({ length: count }, (_, k) => [`${k}.tiptoe`, routes(40)]));

  test('that are taken back are answered as such, and the others all the same', async () => {
    const folder = folderWith(many(60));
    const c = await start({ folders: [folder.uri], capabilities: PULLING });
    const source = new CancellationTokenSource();
    const slow = c.request('workspace/diagnostic', { previousResultIds: [] }, source.token);
    const uri = folder.uriOf('0.tiptoe');
    c.open(uri, routes(40));
    const outline = c.request<unknown[]>('textDocument/documentSymbol', { textDocument: { uri } });
    source.cancel();
    await expect(slow).rejects.toMatchObject({ code: CANCELLED });
    expect(await outline).toHaveLength(41);
  });

  test('that are taken back at once never begin', async () => {
    const c = await start();
    c.open('untitled:a', routes(10));
    const sources = Array.from({ length: 20 }, () => new CancellationTokenSource());
    const asked = sources.map(({ token }) =>
      c.request('textDocument/documentSymbol', { textDocument: { uri: 'untitled:a' } }, token),
    );
    for (const source of sources) source.cancel();
    for (const each of asked) await expect(each).rejects.toMatchObject({ code: CANCELLED });
  });

  test('that are slow do not keep edits and answers waiting', async () => {
    const folder = folderWith(many(60));
    const c = await start({ folders: [folder.uri], capabilities: PULLING });
    let over = false;
    const slow = c
      .request<{ items: unknown[] }>('workspace/diagnostic', { previousResultIds: [] })
      .finally(() => (over = true));
    const uri = folder.uriOf('0.tiptoe');
    c.open(uri, GAME);
    c.change(uri, { text: `${GAME}route other { D }\n` });
    const report = await c.request<{ items: { code: string }[] }>('textDocument/diagnostic', {
      textDocument: { uri },
    });
    expect(report.items.map(({ code }) => code)).toEqual(['undeclared-input']);
    expect(over).toBe(false);
    expect((await slow).items).toHaveLength(60);
  });

  test('of documents that nobody knows are answered with nothing', async () => {
    const c = await start();
    const textDocument = { uri: 'file:///nowhere/a.tiptoe' };
    const position = { line: 0, character: 0 };
    const range = { start: position, end: position };
    const options = { tabSize: 2, insertSpaces: true };
    for (const [method, params] of [
      ['textDocument/hover', { position }],
      ['textDocument/completion', { position }],
      ['textDocument/definition', { position }],
      ['textDocument/references', { position, context: { includeDeclaration: true } }],
      ['textDocument/documentSymbol', {}],
      ['textDocument/semanticTokens/full', {}],
      ['textDocument/inlayHint', { range }],
      ['textDocument/formatting', { options }],
      ['textDocument/prepareRename', { position }],
      ['textDocument/rename', { position, newName: 'x' }],
      ['tiptoe/timeline', {}],
    ] as const) {
      expect(await c.request(method, { textDocument, ...params })).toBeNull();
    }
    const report = await c.request('textDocument/diagnostic', { textDocument });
    expect(report).toMatchObject({ kind: 'full', items: [] });
  });
});
