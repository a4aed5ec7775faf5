import { spawnSync } from 'node:child_process';
import { chmodSync, readFileSync, statSync } from 'node:fs';
import { error, notice, warning } from '@actions/core';
import { Ajv2020 } from 'ajv/dist/2020.js';
import addFormats from 'ajv-formats';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { RULES } from '@core/rules/registry.js';
import { applyEdits } from '@core/text/edit.js';
import { Folder } from '../cli/folder.js';
import { read, root } from '../house/workspace.js';

const GAME =
  'game "Lock Keeper, 100%: up" {\n  clock 60\n  settle 6\n  inputs { D = y +1 R = x +1 }\n}\n';
/** Errors, warnings and notes, with and without fixes, on lines with astral characters and CRLF. */
const FAULTY = {
  'sub folder/a,b.tiptoe': `${GAME}route hop {\r\n  "🦊 茶" D3-D2 X\r\n  D1 (R D\r\n}\r\nlet step = D2..1\r\n`,
  'used.tiptoe': 'let inner = D X\nlet again = again\n',
  'c.tiptoe': `use "used.tiptoe"\nuse "gone.tiptoe"\n${GAME}route r { inner D0 }\nroute r { R }\n`,
};
const ARGS = ['check', '.', 'missing.tiptoe', '--format'];

function findings(folder: Folder) {
  return JSON.parse(folder.run([...ARGS, 'json']).out);
}

describe('JSON', () => {
  // JSON Schema, draft 2020-12 (json-schema.org), as read by ajv.
  const schema = JSON.parse(read('packages/notation-core/schema/findings.schema.json'));
  const ajv = new Ajv2020({ allErrors: true, allowUnionTypes: true });
  const validate = ajv.compile(schema);

  test.each([
    ['of faulty notes', FAULTY],
    ['of nothing found', { 'a.tiptoe': 'let a = D\n' }],
    ['of nothing at all', {}],
  ])('%s is valid against the shipped schema', (_, files) => {
    const report = findings(new Folder(files));
    expect(validate(report) || validate.errors).toBe(true);
  });

  test('of another shape is not', () => {
    const good = findings(new Folder(FAULTY));
    const [first] = good.findings;
    const spoilt = (change: object) => ({ ...good, findings: [{ ...first, ...change }] });
    for (const change of [
      { severity: 'fatal' },
      { line: 0 },
      { start: -1 },
      { title: '' },
      { fixes: {} },
      { extra: 1 },
      { params: { a: null } },
    ]) {
      expect(validate(spoilt(change))).toBe(false);
    }
    expect(validate(spoilt({}))).toBe(true);
    expect(validate({ ...good, form: 2 })).toBe(false);
  });

  test('counts what it lists, and its places are those of the text', () => {
    const folder = new Folder(FAULTY);
    const { findings: found, summary, files, unchecked } = findings(folder);
    const of = (severity: string) =>
      found.filter((each: { severity: string }) => each.severity === severity).length;
    expect(summary).toEqual({
      files: files.length,
      errors: of('error'),
      warnings: of('warning'),
      notes: of('note'),
    });
    expect(unchecked.map((each: { path: string }) => each.path)).toEqual(['missing.tiptoe']);
    expect(found.length).toBeGreaterThan(6);
    for (const { file, start, end, line, column, endLine, endColumn } of found) {
      const text = folder.read(file);
      expect(offsetOf(text, line, column)).toBe(start);
      expect(offsetOf(text, endLine, endColumn)).toBe(end);
    }
  });

  test('carries fixes whose edits, made by hand, are those of --fix', () => {
    const files = { 'a.tiptoe': `${GAME}route hop {\n  "🦊" D3-D2 .9 R1 \n}\n` };
    const folder = new Folder(files);
    const { findings: found } = findings(folder);
    const edits = found.flatMap((each: { fixes: { safety: string; edits: object[] }[] }) =>
      each.fixes.filter(({ safety }) => safety === 'safe').flatMap((fix) => fix.edits),
    );
    expect(edits.length).toBeGreaterThan(1);
    const byHand = applyEdits(
      files['a.tiptoe'],
      edits.map((edit: { start: number; end: number; text: string }) => ({
        span: edit,
        text: edit.text,
      })),
    );
    folder.run(['check', '--fix']);
    expect(folder.read('a.tiptoe')).toBe(byHand);
  });
});

/** The offset of a line and column, found by cutting the text into lines by hand. */
function offsetOf(text: string, line: number, column: number): number {
  const lines = text.split('\n').slice(0, line - 1);
  return lines.reduce((sum, each) => sum + each.length + 1, 0) + column - 1;
}

// Static Analysis Results Interchange Format (SARIF) 2.1.0, OASIS Standard, 27 March 2020: the
// schema and the validator that Microsoft ships in @microsoft/sarif-multitool-linux.
describe.runIf(process.platform === 'linux' && process.arch === 'x64')('SARIF', () => {
  const kit = `${root}node_modules/@microsoft/sarif-multitool-linux/`;

  test.each([
    ['of faulty notes', FAULTY],
    ['of nothing found', { 'a.tiptoe': 'let a = D\n' }],
  ])('%s is valid against the schema of the standard', (_, files) => {
    const schema = JSON.parse(
      readFileSync(`${kit}sarif-2.1.0.json`, 'utf8').replace(/^\ufeff/, ''),
    );
    const ajv = new Ajv2020({ strict: false, allErrors: true });
    addFormats.default(ajv);
    const validate = ajv.compile(schema);
    const log = JSON.parse(new Folder(files).run([...ARGS, 'sarif']).out);
    expect(validate(log) || validate.errors).toBe(true);
    log.runs[0].tool.driver.name = 7;
    expect(validate(log)).toBe(false);
  });

  /** What the validator says of a log in the folder. Its exit code says nothing: it is 0 even then. */
  function verdict(folder: Folder, log: string): { ruleId: string; level?: string }[] {
    const tool = `${kit}Sarif.Multitool`;
    if ((statSync(tool).mode & 0o100) === 0) chmodSync(tool, 0o755);
    const args = ['validate', log, '--output', 'verdict.sarif', '--log', 'ForceOverwrite'];
    spawnSync(tool, args, { cwd: folder.path, encoding: 'utf8' });
    const results = JSON.parse(folder.read('verdict.sarif').replace(/^\ufeff/, '')).runs[0].results;
    return results ?? [];
  }

  /** The names of what it calls a warning (its level where it says none) or an error. */
  function faults(folder: Folder, log: string): string[] {
    return verdict(folder, log)
      .filter(({ level }) => level !== 'note')
      .map(({ ruleId }) => ruleId);
  }

  test('has no fault for the validator, and the validator finds one that is put in', () => {
    const folder = new Folder(FAULTY);
    folder.run([...ARGS, 'sarif', '-o', 'log.sarif']);
    // It would like a page of the tool on the web (SARIF2005), and there is none.
    expect(faults(folder, 'log.sarif')).toEqual(['SARIF2005']);
    const spoilt = JSON.parse(folder.read('log.sarif'));
    const [first] = spoilt.runs[0].results;
    first.ruleIndex = 10_000;
    first.locations[0].physicalLocation.region.endLine = 1;
    first.locations[0].physicalLocation.region.startLine = 2;
    folder.write('spoilt.sarif', JSON.stringify(spoilt));
    expect(faults(folder, 'spoilt.sarif').length).toBeGreaterThan(1);
  });

  test('says the same as JSON: rules, places, levels, fixes', () => {
    const folder = new Folder(FAULTY);
    const { findings: found } = findings(folder);
    const [run] = JSON.parse(folder.run([...ARGS, 'sarif']).out).runs;
    expect(run.columnKind).toBe('utf16CodeUnits');
    expect(run.tool.driver.rules.map((rule: { id: string }) => rule.id)).toEqual(
      RULES.map(({ name }) => name),
    );
    const flat = run.results.map((result: Record<string, never>) => flatResult(result, run));
    expect(flat).toEqual(
      found.map((each: Record<string, unknown> & { fixes: object[] }) => ({
        rule: each['rule'],
        severity: each['severity'],
        file: each['file'],
        start: each['start'],
        end: each['end'],
        line: each['line'],
        column: each['column'],
        endLine: each['endLine'],
        endColumn: each['endColumn'],
        fixes: each.fixes.length,
      })),
    );
    expect(run.invocations[0].executionSuccessful).toBe(false);
    expect(run.invocations[0].toolExecutionNotifications[0].message.text).toBe(
      'there is no such file.',
    );
  });

  // eslint-disable-next-line @typescript-eslint/no-explicit-any -- the shape is what the test checks
  function flatResult(result: any, run: any) {
    const { artifactLocation, region } = result.locations[0].physicalLocation;
    return {
      rule: run.tool.driver.rules[result.ruleIndex].id,
      severity: result.level,
      file: decodeURIComponent(artifactLocation.uri),
      start: region.charOffset,
      end: Number(region.charOffset) + Number(region.charLength),
      line: region.startLine,
      column: region.startColumn,
      endLine: region.endLine,
      endColumn: region.endColumn,
      fixes: result.fixes?.length ?? 0,
    };
  }
});

// GitHub's own toolkit writes the same commands (github.com/actions/toolkit, packages/core).
describe('annotations', () => {
  let written = '';
  beforeEach(() => {
    written = '';
    vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
      written += String(text);
      return true;
    });
  });
  afterEach(() => vi.restoreAllMocks());

  test('are, letter by letter, what the toolkit writes for the same findings', () => {
    const folder = new Folder(FAULTY);
    const say = { error, warning, note: notice };
    for (const each of findings(folder).findings) {
      const columns =
        each.line === each.endLine
          ? { startColumn: each.column, endColumn: Math.max(each.column, each.endColumn - 1) }
          : {};
      const words = [each.title, each.reason, each.wayOut].filter((part) => part !== '').join('\n');
      say[each.severity as keyof typeof say](words, {
        title: `tiptoe: ${each.rule}`,
        file: each.file,
        startLine: each.line,
        endLine: each.endLine,
        ...columns,
      });
    }
    const theirs = written;
    vi.restoreAllMocks();
    const ours = folder.run([...ARGS, 'github']).out;
    expect(ours.split('\n').map(parts)).toEqual(theirs.split('\n').map(parts));
  });

  /** The order of properties means nothing. */
  function parts(line: string): unknown {
    const [, command = '', properties = '', words = ''] = /^::(\w+) (.*?)::(.*)$/.exec(line) ?? [];
    return { command, properties: properties.split(',').sort(), words };
  }
});
