import { execFileSync } from 'node:child_process';
import { cpSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterEach, describe, expect, test } from 'vitest';
import {
  type Diagnostic,
  WorkDoneProgress,
  WorkspaceDiagnosticRequest,
} from 'vscode-languageserver-protocol';
import { ABLE, Client, PULLING, type StartOptions } from './client.js';
import { type Folder, folderWith, GAME } from './folder.js';

const CLI = fileURLToPath(new URL('../../packages/notation-core/bin/tiptoe.cjs', import.meta.url));
const EXAMPLES = fileURLToPath(new URL('../../examples', import.meta.url));

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

const codes = (list: readonly { code?: unknown }[]): unknown[] => list.map(({ code }) => code);
const whole = (text: string) => ({ text });

/** Waits until the codes of a document are these, in any order. */
async function shows(c: Client, uri: string, ...wanted: string[]): Promise<Diagnostic[]> {
  return c.findings(
    uri,
    ({ diagnostics }) => JSON.stringify(codes(diagnostics).sort()) === JSON.stringify(wanted.sort()), // prettier-ignore
  );
}

describe('findings that are pushed', () => {
  test('come with the version of their document, and go when the text is mended', async () => {
    const c = await start();
    const uri = 'untitled:Untitled-1';
    c.open(uri, `${GAME}\nroute hop { L R X }\n`, 3);
    expect(codes(await c.findings(uri, 3))).toContain('undeclared-input');
    const version = c.change(uri, {
      range: { start: { line: 11, character: 16 }, end: { line: 11, character: 18 } },
      text: '',
    });
    expect(codes(await c.findings(uri, version))).not.toContain('undeclared-input');
  });

  test('say title, reason and way out, name their rule, and tell of fixes', async () => {
    const c = await start();
    c.open('untitled:a', `${GAME}route hop { L R D }\n`);
    const [finding] = await c.findings('untitled:a', 1);
    expect(finding).toMatchObject({
      code: 'undeclared-input',
      source: 'tiptoe',
      severity: 1,
      range: { start: { line: 10, character: 16 }, end: { line: 10, character: 17 } },
    });
    expect(finding?.message).toMatch(/^.+[.?!] .+[.?!]$/);
    expect(finding).not.toHaveProperty('codeDescription');
  });

  test('of names that nothing uses are marked as unnecessary', async () => {
    const c = await start();
    c.open('untitled:a', `${GAME}let unplayed = L R\nroute hop { L R }\n`);
    const findings = await c.findings('untitled:a', 1);
    expect(findings.find(({ code }) => code === 'unused-name')).toMatchObject({ tags: [1] });
  });

  test('hold back what the client does not know', async () => {
    const c = await start({ capabilities: {} });
    c.open('untitled:a', `${GAME}let unplayed = L R\nroute hop { L R D }\n`);
    const findings = await c.findings('untitled:a', ({ diagnostics }) => diagnostics.length > 0);
    for (const finding of findings) {
      expect(Object.keys(finding).sort()).toEqual([
        'code',
        'message',
        'range',
        'severity',
        'source',
      ]);
    }
    expect(c.shown('untitled:a')).not.toHaveProperty('version');
  });

  test('go when a document in no folder is closed', async () => {
    const c = await start();
    const uri = 'untitled:Untitled-1';
    c.open(uri, 'route hop { 4 }\n');
    expect(await c.findings(uri, 1)).not.toEqual([]);
    c.close(uri);
    expect(await c.findings(uri, ({ version }) => version === undefined)).toEqual([]);
  });

  test('of notes in the folders are told without any of them open', async () => {
    const folder = folderWith({
      'game.tiptoe': GAME,
      'deep/er/bad.tiptoe': 'use "../../game.tiptoe"\nroute hop { D }\n',
      'node_modules/x/bad.tiptoe': 'route hop { 4 }\n',
      '.hidden/bad.tiptoe': 'route hop { 4 }\n',
    });
    const c = await start({ folders: [folder.uri] });
    await shows(c, folder.uriOf('deep/er/bad.tiptoe'), 'undeclared-input');
    expect(new Set(c.published.map(({ uri }) => uri))).toEqual(
      new Set([folder.uriOf('deep/er/bad.tiptoe')]),
    );
  });

  test('stay when a document of a folder is closed, with what is on the disk', async () => {
    const folder = folderWith({ 'a.tiptoe': `${GAME}route hop { D }\n` });
    const uri = folder.uriOf('a.tiptoe');
    const c = await start({ folders: [folder.uri] });
    await shows(c, uri, 'undeclared-input');
    c.open(uri, `${GAME}route hop { L }\n`, 7);
    expect(await c.findings(uri, 7)).toEqual([]);
    c.close(uri);
    await shows(c, uri, 'undeclared-input');
    expect(c.shown(uri)?.version).toBeUndefined();
  });

  test('of dependants follow an edit in what they use, saved or not', async () => {
    const folder = folderWith({
      'game.tiptoe': GAME,
      'middle.tiptoe': 'use "game.tiptoe"\nlet skip = L R\n',
      'end.tiptoe': 'use "middle.tiptoe"\nroute hop { skip J }\n',
    });
    const c = await start({ folders: [folder.uri] });
    const game = folder.uriOf('game.tiptoe');
    const end = folder.uriOf('end.tiptoe');
    c.open(game, GAME);
    c.open(end, 'use "middle.tiptoe"\nroute hop { skip J }\n');
    expect(await c.findings(end, 1)).toEqual([]);
    c.change(game, whole(GAME.replace('J = jump', 'K = jump')));
    await shows(c, end, 'undeclared-input');
    c.change(game, whole(GAME));
    await shows(c, end);
  });

  test('in a phrase that another file plays point to both places', async () => {
    const phrases = 'use "game.tiptoe"\nlet skip = L J\n';
    const folder = folderWith({ 'phrases.tiptoe': phrases, 'game.tiptoe': GAME });
    const c = await start({ folders: [folder.uri] });
    const uri = folder.uriOf('end.tiptoe');
    c.open(uri, 'use "phrases.tiptoe"\nroute hop { R . skip }\n');
    const findings = await c.findings(uri, 1);
    const unsettled = findings.find(({ code }) => code === 'unsettled');
    expect(unsettled?.range.start).toEqual({ line: 1, character: 16 });
    expect(unsettled?.relatedInformation?.map(({ location }) => location)).toEqual([
      {
        uri: folder.uriOf('phrases.tiptoe'),
        range: { start: { line: 1, character: 11 }, end: { line: 1, character: 12 } },
      },
    ]);
  });
});

describe('files on the disk', () => {
  const USES = 'use "game.tiptoe"\nroute hop { J }\n';
  const changed = (c: Client, folder: Folder, name: string, type: 1 | 2 | 3): void => {
    c.notify('workspace/didChangeWatchedFiles', { changes: [{ uri: folder.uriOf(name), type }] });
  };

  test('are watched where the client can, notes and settings', async () => {
    const c = await start();
    await c.until(() => c.sent.some(({ method }) => method === 'client/registerCapability'));
    const { params } = c.sent.find(({ method }) => method === 'client/registerCapability') ?? {};
    expect(JSON.stringify(params)).toContain('**/*.tiptoe');
    expect(JSON.stringify(params)).toContain('**/tiptoe.json');
  });

  test('that change, come and go are read anew', async () => {
    const folder = folderWith({ 'game.tiptoe': GAME, 'a.tiptoe': USES });
    const c = await start({ folders: [folder.uri] });
    const uri = folder.uriOf('a.tiptoe');
    c.open(uri, USES);
    expect(await c.findings(uri, 1)).toEqual([]);
    folder.write('game.tiptoe', GAME.replace('J = jump', ''));
    changed(c, folder, 'game.tiptoe', 2);
    await shows(c, uri, 'undeclared-input');
    folder.remove('game.tiptoe');
    changed(c, folder, 'game.tiptoe', 3);
    await c.findings(uri, ({ diagnostics }) => codes(diagnostics).includes('use-not-found'));
    folder.write('game.tiptoe', GAME);
    changed(c, folder, 'game.tiptoe', 1);
    await shows(c, uri);
  });

  test('that are deleted lose their findings, and so do folders', async () => {
    const bad = 'route hop { 4 }\n';
    const folder = folderWith({ 'a.tiptoe': bad, 'in/b.tiptoe': bad, 'in/c.tiptoe': bad });
    const c = await start({ folders: [folder.uri] });
    const uris = ['a.tiptoe', 'in/b.tiptoe', 'in/c.tiptoe'].map((name) => folder.uriOf(name));
    for (const uri of uris) await c.findings(uri, ({ diagnostics }) => diagnostics.length > 0);
    for (const name of ['a.tiptoe', 'in']) {
      folder.remove(name);
      changed(c, folder, name, 3);
    }
    for (const uri of uris) expect(await c.findings(uri, ({ diagnostics }) => diagnostics.length === 0)).toEqual([]); // prettier-ignore
  });

  test('that are renamed take their findings along, and every use is to be written anew', async () => {
    const folder = folderWith({
      'game.tiptoe': GAME,
      'a.tiptoe': 'use "game.tiptoe"\nroute hop { D }\n',
      'in/b.tiptoe': 'use "../game.tiptoe" # the game\nroute skip { J }\n',
    });
    const c = await start({ folders: [folder.uri] });
    await shows(c, folder.uriOf('a.tiptoe'), 'undeclared-input');
    const files = [{ oldUri: folder.uriOf('game.tiptoe'), newUri: folder.uriOf('in/x/cellar.tiptoe') }]; // prettier-ignore
    const edit = await c.request('workspace/willRenameFiles', { files });
    const edits = (line: number, from: number, to: number, newText: string) => [
      { range: { start: { line, character: from }, end: { line, character: to } }, newText },
    ];
    expect(edit).toEqual({
      documentChanges: expect.toSatisfy((list: unknown[]) => list.length === 2),
    });
    expect(edit).toMatchObject({
      documentChanges: expect.arrayContaining([
        {
          textDocument: { uri: folder.uriOf('a.tiptoe'), version: null },
          edits: edits(0, 4, 17, '"in/x/cellar.tiptoe"'),
        },
        {
          textDocument: { uri: folder.uriOf('in/b.tiptoe'), version: null },
          edits: edits(0, 4, 20, '"x/cellar.tiptoe"'),
        },
      ]),
    });
    // A rename that concerns nobody.
    const other = [{ oldUri: folder.uriOf('a.tiptoe'), newUri: folder.uriOf('z.tiptoe') }];
    expect(await c.request('workspace/willRenameFiles', { files: other })).toBeNull();
    folder.remove('a.tiptoe');
    folder.write('z.tiptoe', 'use "game.tiptoe"\nroute hop { D }\n');
    c.notify('workspace/didRenameFiles', { files: other });
    await shows(c, folder.uriOf('a.tiptoe'));
    await shows(c, folder.uriOf('z.tiptoe'), 'undeclared-input');
  });

  test('that cannot be read are said to be so at their use', async () => {
    const folder = folderWith({ 'a.tiptoe': 'use "in"\nuse "gone.tiptoe"\n', 'in/x.txt': '' });
    const c = await start({ folders: [folder.uri] });
    const findings = await c.findings(folder.uriOf('a.tiptoe'), ({ diagnostics }) => diagnostics.length === 2); // prettier-ignore
    expect(findings.map(({ message }) => message)).toEqual([
      expect.stringContaining('It is a folder, not a file.'),
      expect.stringContaining('There is no such file.'),
    ]);
  });
});

describe('settings', () => {
  const NOTE = `${GAME}let unplayed = L R\nroute hop { L R }\n`;

  test('of the nearest tiptoe.json count, and those of the client where it is silent', async () => {
    const folder = folderWith({
      'a.tiptoe': NOTE,
      'in/b.tiptoe': NOTE,
      'in/tiptoe.json': '{ "rules": { "unused-name": "error" } }',
    });
    const c = await start({
      folders: [folder.uri],
      configuration: { rules: { 'unused-name': 'warning', 'zero-frames': null }, limits: null },
    });
    const a = await shows(c, folder.uriOf('a.tiptoe'), 'unused-name');
    const b = await shows(c, folder.uriOf('in/b.tiptoe'), 'unused-name');
    expect([a[0]?.severity, b[0]?.severity]).toEqual([2, 1]);
  });

  test('that change show at once, from the client or from a file', async () => {
    const folder = folderWith({ 'a.tiptoe': NOTE });
    const c = await start({ folders: [folder.uri] });
    const uri = folder.uriOf('a.tiptoe');
    await shows(c, uri, 'unused-name');
    c.configuration = { rules: { 'unused-name': 'off' } };
    c.notify('workspace/didChangeConfiguration', { settings: null });
    await shows(c, uri);
    folder.write('tiptoe.json', '{ "rules": { "unused-name": "error" } }');
    const changes = [{ uri: folder.uriOf('tiptoe.json'), type: 1 }];
    c.notify('workspace/didChangeWatchedFiles', { changes });
    await shows(c, uri, 'unused-name');
    folder.remove('tiptoe.json');
    c.notify('workspace/didChangeWatchedFiles', { changes: [{ ...changes[0], type: 3 }] });
    await shows(c, uri);
  });

  test('that are wrong are reported in their file, open or not', async () => {
    const folder = folderWith({ 'a.tiptoe': NOTE, 'tiptoe.json': '{ "rules": { "unsued-name": "off" } }' }); // prettier-ignore
    const c = await start({ folders: [folder.uri] });
    const uri = folder.uriOf('tiptoe.json');
    const [wrong] = await c.findings(uri, ({ diagnostics }) => diagnostics.length === 1);
    expect(wrong?.message).toContain('unused-name');
    expect(wrong?.range.start).toEqual({ line: 0, character: 13 });
    c.open(uri, '{ "rules": { "unused-name": "off" } }', 2);
    expect(await c.findings(uri, 2)).toEqual([]);
    await shows(c, folder.uriOf('a.tiptoe'));
    c.close(uri);
    await c.findings(uri, ({ diagnostics }) => diagnostics.length === 1);
  });

  test('of a client that answers for none come with initialize or with their change', async () => {
    const { configuration: _, ...workspace } = ABLE.workspace ?? {};
    const c = await start({
      capabilities: { ...ABLE, workspace },
      initializationOptions: { settings: { rules: { 'unused-name': 'error' } } },
    });
    c.open('untitled:a', NOTE);
    expect((await c.findings('untitled:a', 1))[0]?.severity).toBe(1);
    const settings = { tiptoe: { rules: { 'unused-name': 'off' } } };
    c.notify('workspace/didChangeConfiguration', { settings });
    await shows(c, 'untitled:a');
  });

  test('that the client has wrong are said in the log, and the rest of them counts', async () => {
    const c = await start({ configuration: { rules: { nonsense: 'off', 'unused-name': 'off' } } });
    c.open('untitled:a', NOTE);
    expect(await c.findings('untitled:a', 1)).toEqual([]);
    await c.until(() => c.sent.some(({ method, params }) => method === 'window/logMessage' && JSON.stringify(params).includes('nonsense'))); // prettier-ignore
  });
});

describe('two folders', () => {
  test('each have their own, and share what both use', async () => {
    const one = folderWith({
      'game.tiptoe': GAME,
      'a.tiptoe': 'use "game.tiptoe"\nroute a { D }\n',
    });
    const two = folderWith({ 'b.tiptoe': 'route b { 4 }\n', 'tiptoe.json': '{}' });
    const c = await start({ folders: [one.uri, two.uri] });
    await shows(c, one.uriOf('a.tiptoe'), 'undeclared-input');
    await c.findings(two.uriOf('b.tiptoe'), ({ diagnostics }) => diagnostics.length > 0);
    c.notify('workspace/didChangeWorkspaceFolders', {
      event: { added: [], removed: [{ uri: two.uri, name: 'two' }] },
    });
    await shows(c, two.uriOf('b.tiptoe'));
    const three = folderWith({ 'c.tiptoe': 'route c { 4 }\n' });
    c.notify('workspace/didChangeWorkspaceFolders', {
      event: { added: [{ uri: three.uri, name: 'three' }], removed: [] },
    });
    await c.findings(three.uriOf('c.tiptoe'), ({ diagnostics }) => diagnostics.length > 0);
    expect(codes(c.shown(one.uriOf('a.tiptoe'))?.diagnostics ?? [])).toEqual(['undeclared-input']);
  });
});

describe('findings that are pulled', () => {
  interface Report {
    kind: string;
    uri?: string;
    resultId?: string;
    items?: Diagnostic[];
    relatedDocuments?: Record<string, Report>;
  }
  const pull = (c: Client, uri: string, previousResultId?: string): Promise<Report> =>
    c.request('textDocument/diagnostic', { textDocument: { uri }, previousResultId });

  test('are not pushed as well', async () => {
    const c = await start({ capabilities: PULLING });
    c.open('untitled:a', `${GAME}route hop { D }\n`);
    const { kind, items } = await pull(c, 'untitled:a');
    expect(kind).toBe('full');
    expect(codes(items ?? [])).toEqual(['undeclared-input']);
    expect(c.published).toEqual([]);
  });

  test('are unchanged while nothing of them has changed', async () => {
    const c = await start({ capabilities: PULLING });
    c.open('untitled:a', `${GAME}route hop { D }\n`);
    const first = await pull(c, 'untitled:a');
    const again = await pull(c, 'untitled:a', first.resultId);
    expect(again).toEqual({ kind: 'unchanged', resultId: first.resultId });
    c.change('untitled:a', whole(`${GAME}route hop { L }\n`));
    const mended = await pull(c, 'untitled:a', first.resultId);
    expect(mended).toMatchObject({ kind: 'full', items: [] });
    expect(await pull(c, 'untitled:a', 'nonsense')).toMatchObject({ kind: 'full' });
  });

  test('come with those of dependants that are different now', async () => {
    const folder = folderWith({ 'game.tiptoe': GAME, 'a.tiptoe': 'use "game.tiptoe"\nroute a { J }\n' }); // prettier-ignore
    const c = await start({ capabilities: PULLING, folders: [folder.uri] });
    const game = folder.uriOf('game.tiptoe');
    c.open(game, GAME);
    await c.request('workspace/diagnostic', { previousResultIds: [] });
    expect(await pull(c, game)).not.toHaveProperty('relatedDocuments');
    c.change(game, whole(GAME.replace('J = jump', '')));
    const { relatedDocuments } = await pull(c, game);
    expect(codes(relatedDocuments?.[folder.uriOf('a.tiptoe')]?.items ?? [])).toEqual(['undeclared-input']); // prettier-ignore
  });

  test('of the workspace come in parts, with progress, and tell what is gone', async () => {
    const files = Object.fromEntries(
      Array.from({ length: 60 }, (_, k) => [`${k}.tiptoe`, `${GAME}route r { D }\n`]),
    );
    const folder = folderWith(files);
    const c = await start({ capabilities: PULLING, folders: [folder.uri] });
    const parts: Report[][] = [];
    const told: string[] = [];
    c.connection.onProgress(WorkspaceDiagnosticRequest.partialResult, 'part', ({ items }) => void parts.push(items)); // prettier-ignore
    c.connection.onProgress(WorkDoneProgress.type, 'done', ({ kind }) => void told.push(kind));
    const last = await c.request<{ items: Report[] }>('workspace/diagnostic', {
      previousResultIds: [{ uri: folder.uriOf('gone.tiptoe'), value: '1' }],
      partialResultToken: 'part',
      workDoneToken: 'done',
    });
    expect(last.items).toEqual([]);
    expect(parts.length).toBeGreaterThan(2);
    const all = parts.flat();
    expect(all).toHaveLength(61);
    const gone = all.find(({ uri }) => uri === folder.uriOf('gone.tiptoe'));
    expect(gone).toMatchObject({ kind: 'full', items: [] });
    expect(told[0]).toBe('begin');
    expect(told.at(-1)).toBe('end');
    expect(told).toContain('report');
    // Again, with what is known.
    const previousResultIds = all.flatMap(({ uri, resultId }) => (resultId === undefined ? [] : [{ uri, value: resultId }])); // prettier-ignore
    const again = await c.request<{ items: Report[] }>('workspace/diagnostic', { previousResultIds }); // prettier-ignore
    expect(new Set(again.items.map(({ kind }) => kind))).toEqual(new Set(['unchanged']));
  });

  test('are asked for again after the settings have changed', async () => {
    const c = await start({ capabilities: PULLING });
    c.configuration = { rules: { 'undeclared-input': 'warning' } };
    c.notify('workspace/didChangeConfiguration', { settings: null });
    await c.until(() => c.sent.some(({ method }) => method === 'workspace/diagnostic/refresh'));
  });
});

describe('tiptoe check says the same', () => {
  test('of all examples', async () => {
    const folder = folderWith({});
    cpSync(EXAMPLES, join(folder.path, 'examples'), { recursive: true });
    const notes = readdirSync(folder.path, { recursive: true, encoding: 'utf8' })
      .filter((name) => name.endsWith('.tiptoe'))
      .map((name) => join(folder.path, name));
    const printed = check(notes);
    const c = await start({ folders: [folder.uri], capabilities: PULLING });
    const { items } = await c.request<{ items: { uri: string; items: Diagnostic[] }[] }>(
      'workspace/diagnostic',
      { previousResultIds: [] },
    );
    const SEVERITIES = ['', 'error', 'warning', 'note'];
    const served = items.flatMap(({ uri, items: own }) =>
      own.map(({ code, severity = 0, range: { start: from, end: to }, message }) => [
        uri,
        code,
        SEVERITIES[severity],
        from.line + 1,
        from.character + 1,
        to.line + 1,
        to.character + 1,
        message, // prettier-ignore
      ]),
    );
    expect(printed.length).toBeGreaterThan(5);
    expect(new Set(items.map(({ uri }) => uri))).toEqual(new Set(notes.map((path) => pathToFileURL(path).href))); // prettier-ignore
    expect(served.map(String).sort()).toEqual(printed.map(String).sort());
  });

  /** The findings of the command, in the form of its log for other tools. */
  function check(paths: readonly string[]): unknown[][] {
    let text: string;
    try {
      text = execFileSync(process.execPath, [CLI, 'check', '--format', 'sarif', ...paths], { encoding: 'utf8', stdio: 'pipe' }); // prettier-ignore
    } catch (error) {
      text = (error as { stdout: string }).stdout;
    }
    const log: { runs: [{ results: SarifResult[] }] } = JSON.parse(text);
    return log.runs[0].results.map(
      ({ ruleId, level, message, locations: [{ physicalLocation }] }) => {
        const { artifactLocation, region } = physicalLocation;
        return [
          artifactLocation.uri,
          ruleId,
          level,
          region.startLine,
          region.startColumn,
          region.endLine,
          region.endColumn,
          message.text, // prettier-ignore
        ];
      },
    );
  }

  interface SarifResult {
    ruleId: string;
    level: string;
    message: { text: string };
    locations: [
      {
        physicalLocation: {
          artifactLocation: { uri: string };
          region: Record<'startLine' | 'startColumn' | 'endLine' | 'endColumn', number>;
        };
      },
    ];
  }
});

test('the list of features is that of their files', () => {
  const folder = fileURLToPath(new URL('../../packages/lsp/src/features/', import.meta.url));
  const files = readdirSync(folder).filter((name) => !['all.ts', 'feature.ts'].includes(name));
  const listed = [...readFileSync(`${folder}all.ts`, 'utf8').matchAll(/from '\.\/(.+)\.js'/g)].map(([, name]) => `${name}.ts`); // prettier-ignore
  expect(listed.filter((name) => name !== 'feature.ts').sort()).toEqual(files.sort());
});
