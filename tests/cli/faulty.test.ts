import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { root } from '../house/workspace.js';
import { Folder } from './folder.js';

interface Found {
  readonly rule: string;
  readonly severity: string;
  readonly line: number;
  readonly column: number;
}

/** `line:column severity rule`, as `tiptoe check` reports them. */
function findingsOf(file: string): { code: number | null; lines: string[] } {
  const path = join(root, 'examples', file);
  const { code, out } = new Folder().run(['check', path, '--format', 'json']);
  const { findings } = JSON.parse(out) as { findings: Found[] };
  const lines = findings.map(
    ({ line, column, severity, rule }) => `${line}:${column} ${severity} ${rule}`,
  );
  return { code, lines };
}

describe('the examples', () => {
  test.each([
    'saltmarsh/game.tiptoe',
    'saltmarsh/log.tiptoe',
    'saltmarsh/barrier.tiptoe',
    'saltmarsh/yard.tiptoe',
    'lanternworks/game.tiptoe',
    'lanternworks/chimney.tiptoe',
  ])('%s has nothing to report', (file) => {
    expect(findingsOf(file)).toEqual({ code: 0, lines: [] });
  });

  test('the salt marsh has a log of the size that the documents speak of', () => {
    const log = readFileSync(join(root, 'examples/saltmarsh/log.tiptoe'), 'utf8');
    expect(log.match(/^spot /gm)?.length).toBeGreaterThanOrEqual(12);
    expect(log.match(/->/g)?.length).toBeGreaterThanOrEqual(40);
    const path = join(root, 'examples/saltmarsh/barrier.tiptoe');
    const { out } = new Folder().run(['trace', path]);
    expect(out).toContain('settles: @reed > @rush > @sedge, every one of 17 starts within 4');
  });

  test('the note full of mistakes is found out in every line', () => {
    expect(findingsOf('faulty/faulty.tiptoe')).toMatchInlineSnapshot(`
      {
        "code": 1,
        "lines": [
          "2:5 error use-not-found",
          "7:14 error phrase-in-itself",
          "8:13 error phrase-in-itself",
          "10:1 error misspelled-word",
          "11:5 error stray-count",
          "14:45 warning undeclared-spot",
          "18:3 error unclosed-pause",
          "22:3 error unknown-name",
          "23:3 error undeclared-input",
          "25:3 error odd-word",
          "30:3 warning undeclared-spot",
          "36:3 error unclosed-text",
        ],
      }
    `);
  });

  test('the note that the log contradicts is found out by every rule of positions', () => {
    const { lines } = findingsOf('faulty/lost.tiptoe');
    const met = new Set(lines.map((line) => line.split(' ')[2]));
    expect([...met].sort()).toEqual([
      'conflicting-log', 'look-alikes', 'never-arrives', 'off-ground', 'range-differs',
      'rescue-ambiguous', 'rescue-unreachable', 'single-sighting', 'unknown-landing',
      'unproven-start', 'unused-spot', 'wrong-landing',
    ]); // prettier-ignore
    expect(findingsOf('faulty/lost.tiptoe')).toMatchInlineSnapshot(`
      {
        "code": 1,
        "lines": [
          "12:6 warning unused-spot",
          "27:3 warning conflicting-log",
          "31:29 error wrong-landing",
          "32:5 error wrong-landing",
          "36:3 error range-differs",
          "41:14 warning look-alikes",
          "41:14 error never-arrives",
          "42:14 warning look-alikes",
          "42:14 error never-arrives",
          "46:24 warning unproven-start",
          "47:3 error off-ground",
          "47:3 warning unknown-landing",
          "48:3 note single-sighting",
          "49:3 warning unknown-landing",
          "52:8 warning rescue-unreachable",
          "52:28 warning unknown-landing",
          "53:8 warning look-alikes",
          "53:26 warning unknown-landing",
          "54:8 warning look-alikes",
          "54:8 warning rescue-ambiguous",
          "54:26 warning unknown-landing",
          "54:33 warning rescue-unreachable",
        ],
      }
    `);
  });
});
