import { describe, expect, test } from 'vitest';
import { trespasses } from './arrows.js';
import { packageSources } from './workspace.js';

const C = 'packages/notation-core/src/';

/** Checks a few files given by their path inside the core's sources, or from the root. */
function check(files: Record<string, string>): string[] {
  const whole = Object.entries(files).map(
    ([path, text]) => [path.startsWith('packages/') ? path : C + path, text] as const,
  );
  return trespasses(new Map(whole))
    .map((line) => line.replaceAll(C, ''))
    .sort();
}

describe('the house', () => {
  test('holds: no arrow up, no circle, no Node outside its rooms, no default export', () => {
    expect(trespasses(packageSources())).toEqual([]);
  });

  test('is really read', () => {
    expect(packageSources().size).toBeGreaterThan(2);
  });
});

describe('the checker lets pass', () => {
  test('an arrow down, one inside a room, and the index over all but cli', () => {
    const found = check({
      'text/span.ts': '',
      'text/edit.ts': "import { span } from './span.js';",
      'syntax/tree.ts': "import type { Span } from '../text/span.js';",
      'index.ts': "export * from './syntax/tree.js';",
      'cli/main.ts': "import { parse } from '../syntax/tree.js'; import fs from 'node:fs';",
    });
    expect(found).toEqual([]);
  });

  test('the libraries of a room, and Node and commander in cli', () => {
    const found = check({
      'syntax/grammar.ts': "import { Lexer } from 'chevrotain';",
      'cli/main.ts': "import { Command } from 'commander'; process.exitCode = 2;",
    });
    expect(found).toEqual([]);
  });

  test('the word process where it is no global', () => {
    const found = check({
      'text/a.ts':
        "export const a = { process: 1 }; // process\nexport const b = a.process + 'process';",
    });
    expect(found).toEqual([]);
  });

  test('Node in the node entries of the editor packages', () => {
    const found = check({
      'packages/lsp/src/node.ts': "import 'node:fs'; import 'vscode-languageserver/node';",
      'packages/vscode-ext/src/node/client.ts': "import 'node:path'; import 'vscode';",
    });
    expect(found).toEqual([]);
  });
});

describe('the checker reports', () => {
  test.each([
    ['text/a.ts', 'syntax/b.ts', 'text must not know syntax'],
    ['syntax/a.ts', 'model/b.ts', 'syntax must not know model'],
    ['model/a.ts', 'timeline/b.ts', 'model must not know timeline'],
    ['timeline/a.ts', 'positions/b.ts', 'timeline must not know positions'],
    ['positions/a.ts', 'odds/b.ts', 'positions must not know odds'],
    ['odds/a.ts', 'text/b.ts', 'odds must not know text'],
    ['odds/a.ts', 'syntax/b.ts', 'odds must not know syntax'],
    ['rules/a.ts', 'publish/b.ts', 'rules must not know publish'],
    ['ide/a.ts', 'publish/b.ts', 'ide must not know publish'],
    ['publish/a.ts', 'ide/b.ts', 'publish must not know ide'],
    ['publish/a.ts', 'cli/b.ts', 'publish must not know cli'],
    ['cli/a.ts', 'ide/b.ts', 'cli must not know ide'],
    ['cellar/a.ts', 'text/b.ts', 'cellar is no room of the house'],
  ])('%s importing %s', (from, to, reason) => {
    const text = `import '../${to.replace('.ts', '.js')}';`;
    expect(check({ [from]: text, [to]: '' })).toEqual([`${from}: imports ${to}: ${reason}`]);
  });

  test.each([
    "import type { B } from '../syntax/b.js';",
    "export * from '../syntax/b.js';",
    "export { b } from '../syntax/b.js';",
    "const b = await import('../syntax/b.js');",
  ])('an arrow up written as %s', (text) => {
    const found = check({ 'text/a.ts': text, 'syntax/b.ts': '' });
    expect(found).toEqual(['text/a.ts: imports syntax/b.ts: text must not know syntax']);
  });

  test('the index importing cli, and a room importing the index', () => {
    const found = check({
      'index.ts': "export * from './cli/main.js';",
      'text/a.ts': "import '../index.js';",
      'cli/main.ts': '',
    });
    expect(found).toEqual([
      'index.ts: imports cli/main.ts: the index must not know cli',
      'text/a.ts: imports index.ts: a room must not know the index',
    ]);
  });

  test('an import of a file that is not there', () => {
    expect(check({ 'text/a.ts': "import './b.js';" })).toEqual([
      'text/a.ts: imports ./b.js, which is not there',
    ]);
  });

  test('a circle of two, of three, and of one', () => {
    const found = check({
      'text/a.ts': "import './b.js';",
      'text/b.ts': "import type { A } from './a.js';",
      'model/a.ts': "import './b.js';",
      'model/b.ts': "import './c.js'; import './d.js';",
      'model/c.ts': "import './a.js';",
      'model/d.ts': '',
      'rules/a.ts': "import './a.js';",
    });
    expect(found).toEqual([
      'circle: model/a.ts <-> model/b.ts <-> model/c.ts',
      'circle: rules/a.ts',
      'circle: text/a.ts <-> text/b.ts',
    ]);
  });

  test('two files that share a third are no circle', () => {
    const found = check({
      'text/a.ts': "import './c.js'; import './b.js';",
      'text/b.ts': "import './c.js';",
      'text/c.ts': '',
    });
    expect(found).toEqual([]);
  });

  test('Node, with its prefix, without it and as a global, outside cli', () => {
    const found = check({
      'rules/a.ts': "import { readFileSync } from 'node:fs';",
      'rules/b.ts': "import { join } from 'path';",
      'rules/c.ts': 'export const width = process.stdout.columns;',
      'rules/d.ts': 'export const b = { Buffer };',
      'packages/lsp/src/server.ts': "import 'node:fs';",
    });
    expect(found).toEqual([
      'packages/lsp/src/server.ts: imports node:fs outside the rooms of Node',
      'rules/a.ts: imports node:fs outside the rooms of Node',
      'rules/b.ts: imports path outside the rooms of Node',
      'rules/c.ts: uses process outside the rooms of Node',
      'rules/d.ts: uses Buffer outside the rooms of Node',
    ]);
  });

  test('commander outside cli and editor libraries outside their package', () => {
    const found = check({
      'rules/a.ts': "import { Command } from 'commander';",
      'ide/a.ts': "import { Hover } from 'vscode-languageserver-types';",
      'packages/lsp/src/server.ts': "import * as vscode from 'vscode';",
    });
    expect(found).toEqual([
      'ide/a.ts: imports vscode-languageserver-types outside its room',
      'packages/lsp/src/server.ts: imports vscode outside its room',
      'rules/a.ts: imports commander outside its room',
    ]);
  });

  test('a package reaching into another by path, and the core reaching up by name', () => {
    const found = check({
      'packages/lsp/src/server.ts': "import '../../notation-core/src/text/a.js';",
      'text/a.ts': "import '@tiptoe/lsp';",
    });
    expect(found).toEqual([
      'packages/lsp/src/server.ts: imports text/a.ts: another package goes by its name',
      'text/a.ts: imports @tiptoe/lsp from below',
    ]);
  });

  test.each([
    'export default 1;',
    'export default function f() {}',
    'export default class {}',
    'const a = 1; export { a as default };',
  ])('a default export: %s', (text) => {
    expect(check({ 'text/a.ts': text })).toEqual(['text/a.ts: exports a default']);
  });
});
