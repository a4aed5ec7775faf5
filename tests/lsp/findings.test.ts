import { afterEach, describe, expect, test } from 'vitest';
import { Client, type StartOptions } from './client.js';
import { GAME } from './folder.js';

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

  test('go when a document in no folder is closed', async () => {
    const c = await start();
    const uri = 'untitled:Untitled-1';
    c.open(uri, 'route hop { 4 }\n');
    expect(await c.findings(uri, 1)).not.toEqual([]);
    c.close(uri);
    expect(await c.findings(uri, ({ version }) => version === undefined)).toEqual([]);
  });
});
