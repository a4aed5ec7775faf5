import { cpSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { Lines } from '@lsp/positions.js';
import { ABLE, Client } from './client.js';
import { type Folder, folderWith } from './folder.js';

const EXAMPLES = fileURLToPath(new URL('../../examples', import.meta.url));

let client: Client;
let folder: Folder;

beforeEach(async () => {
  folder = folderWith({});
  cpSync(EXAMPLES, folder.path, { recursive: true });
  client = await Client.start({
    folders: [folder.uri],
    capabilities: {
      ...ABLE,
      workspace: {
        ...ABLE.workspace,
        workspaceEdit: { documentChanges: true, changeAnnotationSupport: {} },
      },
    },
  });
});

// Stopping fails where any answer had a wrong shape.
afterEach(async () => {
  expect(await client.stop()).toBe(0);
  expect(client.stderr).toBe('');
});

const notes = readdirSync(EXAMPLES, { recursive: true, encoding: 'utf8' })
  .map((name) => name.replaceAll('\\', '/'))
  .filter((name) => name.endsWith('.tiptoe'));

function opened(name: string): { uri: string; text: string; lines: Lines } {
  const path = join(folder.path, name);
  const text = readFileSync(path, 'utf8');
  const uri = pathToFileURL(path).href;
  client.open(uri, text);
  return { uri, text, lines: Lines.of(text) };
}

/** A place of a note: in front of, or with `after` behind, the first that matches. */
function placeOf(note: { text: string; lines: Lines }, words: string, after = 0) {
  const at = note.text.indexOf(words);
  expect(at).toBeGreaterThanOrEqual(0);
  return note.lines.positionAt(at + after, 'utf-16');
}

interface Resolvable {
  data?: unknown;
}

describe.each(notes)('every request anywhere in %s', (name) => {
  test('is answered in its shape', async () => {
    const { uri, text, lines } = opened(name);
    const textDocument = { uri };
    const at = (method: string, params: object = {}): Promise<unknown> =>
      client.request(method, { textDocument, ...params });
    const whole = lines.rangeOf({ start: 0, end: text.length }, 'utf-16');
    const options = { tabSize: 2, insertSpaces: true };

    await at('textDocument/documentSymbol');
    await at('textDocument/foldingRange');
    await at('textDocument/documentLink');
    await at('textDocument/formatting', { options });
    await at('textDocument/rangeFormatting', { range: whole, options });
    await at('textDocument/inlayHint', { range: whole });
    for (const lens of (await at('textDocument/codeLens')) as object[]) {
      await client.request('codeLens/resolve', lens);
    }
    const tokens = (await at('textDocument/semanticTokens/full')) as { resultId: string };
    expect(await at('textDocument/semanticTokens/full/delta', { previousResultId: tokens.resultId })).toMatchObject({ edits: [] }); // prettier-ignore

    for (let offset = 0; offset <= text.length; offset += 7) {
      const position = lines.positionAt(offset, 'utf-16');
      const range = { start: position, end: position };
      for (const method of [
        'hover',
        'definition',
        'declaration',
        'typeDefinition',
        'documentHighlight',
        'signatureHelp',
        'linkedEditingRange',
        'prepareRename',
      ]) {
        // prettier-ignore
        await at(`textDocument/${method}`, { position });
      }
      await at('textDocument/references', { position, context: { includeDeclaration: true } });
      await at('textDocument/selectionRange', { positions: [position] });
      await at('textDocument/codeAction', { range, context: { diagnostics: [], triggerKind: 1 } });
      await at('textDocument/onTypeFormatting', { position, ch: '}', options });
      await at('textDocument/rename', { position, newName: 'other' }).catch((error: unknown) => {
        // LSP 3.17: RequestFailed.
        expect(error).toMatchObject({ code: -32803 });
      });
      const { items } = (await at('textDocument/completion', { position })) as { items: Resolvable[] }; // prettier-ignore
      const [first] = items;
      if (first !== undefined) await client.request('completionItem/resolve', first);
      const calls = (await at('textDocument/prepareCallHierarchy', { position })) as object[];
      for (const item of calls) {
        await client.request('callHierarchy/incomingCalls', { item });
        await client.request('callHierarchy/outgoingCalls', { item });
      }
    }
  });
});

test('symbols are found in every note', async () => {
  const found = await client.request<{ name: string }[]>('workspace/symbol', { query: 'barrier' });
  expect(found.map(({ name }) => name)).toContain('barrier');
  expect(await client.request('workspace/symbol', { query: 'nothing of the kind' })).toEqual([]);
});

test('tokens of a changed note come as what is different', async () => {
  const note = opened('saltmarsh/barrier.tiptoe');
  const textDocument = { uri: note.uri };
  const full = (): Promise<{ resultId: string; data: number[] }> =>
    client.request('textDocument/semanticTokens/full', { textDocument });
  const before = await full();
  const start = placeOf(note, 'R U U');
  client.change(note.uri, { range: { start, end: start }, text: 'U D ' });
  const { edits } = await client.request<{
    edits: { start: number; deleteCount: number; data?: number[] }[];
  }>('textDocument/semanticTokens/full/delta', { textDocument, previousResultId: before.resultId });
  const data = [...before.data];
  for (const edit of edits) data.splice(edit.start, edit.deleteCount, ...(edit.data ?? []));
  expect(data).toEqual((await full()).data);
  expect(edits.flatMap((edit) => edit.data ?? []).length).toBeLessThan(data.length / 4);
});

describe('the timeline', () => {
  interface Answer {
    version: number;
    document: number;
    ticks: number;
    until: number;
    segments: { tick: number; ticks: number; item: { uri: string; range: unknown } | null }[];
  }
  const ask = (uri: string, params: object): Promise<Answer> =>
    client.request('tiptoe/timeline', { textDocument: { uri }, ...params });

  test('of a route covers each of its ticks once, in windows too', async () => {
    const { uri } = opened('saltmarsh/barrier.tiptoe');
    const all = await ask(uri, { route: 'barrier' });
    expect(all).toMatchObject({ version: 1, document: 1, route: 'barrier', until: all.ticks });
    let next = 0;
    for (const { tick, ticks } of all.segments) {
      expect(tick).toBe(next);
      next += ticks;
    }
    expect(next).toBe(all.ticks);
    const part = await ask(uri, { route: 'barrier', from: 10, to: 20 });
    expect(part.segments.reduce((sum, { ticks }) => sum + ticks, 0)).toBe(10);
    const few = await ask(uri, { route: 'barrier', most: 3 });
    expect(few.segments).toHaveLength(3);
    expect(few.until).toBeLessThan(few.ticks);
  });

  test('follows the ways that are chosen', async () => {
    const { uri } = opened('saltmarsh/barrier.tiptoe');
    const lenient = await ask(uri, { route: 'barrier' });
    const fast = await ask(uri, { route: 'barrier', choices: { finish: 'fast' } });
    expect(fast.ticks).toBeLessThan(lenient.ticks);
  });

  test('leads from a tick to its item and back', async () => {
    const note = opened('saltmarsh/barrier.tiptoe');
    const { uri } = note;
    const { ticks } = await ask(uri, { route: 'barrier' });
    const tick = ticks - 1;
    const textDocument = { uri };
    const item = await client.request<{ item: { range: { start: object } }; inRoute: unknown }>(
      'tiptoe/itemAt',
      { textDocument, route: 'barrier', tick },
    );
    expect(item.item.range.start).toEqual(placeOf(note, 'U20 @past'));
    const back = await client.request<{ ranges: { from: number; to: number }[] }>('tiptoe/tickAt', {
      textDocument,
      position: placeOf(note, 'U20 @past', 1),
    });
    expect(back.ranges).toEqual([{ from: tick - 19, to: ticks }]);
    expect(await client.request('tiptoe/itemAt', { textDocument, route: 'barrier', tick: ticks })).toBeNull(); // prettier-ignore
  });

  test.each([
    [{ route: 'nonsense' }, 'no route nonsense'],
    [{ route: 'barrier', from: -1 }, 'from is no tick'],
    [{ route: 'barrier', to: 0.5 }, 'to is no tick'],
  ])('is refused for %j', async (params, words) => {
    const { uri } = opened('saltmarsh/barrier.tiptoe');
    const asked = ask(uri, params);
    await expect(asked).rejects.toMatchObject({ code: -32602, message: expect.stringContaining(words) }); // prettier-ignore
  });
});
