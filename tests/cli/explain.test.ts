import { micromark } from 'micromark';
import { gfm, gfmHtml } from 'micromark-extension-gfm';
import { describe, expect, test } from 'vitest';
import { RULES } from '@core/rules/registry.js';
import { Folder } from './folder.js';

const run = (...args: string[]) => new Folder().run(['explain', ...args]);

describe('tiptoe explain', () => {
  test('lists every rule, each on a line of its own', () => {
    const { code, out } = run();
    expect(code).toBe(0);
    for (const { name, severity } of RULES) {
      expect(out).toMatch(new RegExp(`^${name} +${severity} +\\S`, 'm'));
    }
    expect(Math.max(...out.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
  });

  // A page without a fix, one with, and the longest.
  const longest = [...RULES].sort((a, b) => b.page.what.length - a.page.what.length);
  const shown = [
    RULES.find(({ page }) => page.fix === undefined),
    RULES.find(({ page }) => page.fix !== undefined),
    longest[0],
  ].flatMap((rule) => rule ?? []);

  test.each(shown.map((rule) => [rule.name, rule] as const))(
    'shows the page of %s',
    (name, rule) => {
      const { code, out, err } = run(name);
      expect({ code, err }).toEqual({ code: 0, err: '' });
      const flat = out.replace(/\s+/g, ' ');
      const { what, why, bad, instead, fix = '' } = rule.page;
      for (const part of [rule.title, what, why, bad, instead, fix]) {
        expect(flat).toContain(part.replace(/\s+/g, ' ').trim());
      }
    },
  );

  test('speaks JSON and Markdown of one rule and of all', () => {
    const [first] = RULES;
    const one = JSON.parse(run('--format', 'json', first?.name ?? '').out);
    expect(one).toMatchObject({
      rule: first?.name,
      severity: first?.severity,
      bad: first?.page.bad,
    });
    const all = JSON.parse(run('--format', 'json').out);
    expect(all.map((each: { rule: string }) => each.rule)).toEqual(RULES.map(({ name }) => name));
    const html = micromark(run('--format', 'markdown').out, {
      extensions: [gfm()],
      htmlExtensions: [gfmHtml()],
    });
    expect(html.match(/<tr>/g)).toHaveLength(RULES.length + 1);
    expect(run('--format', 'markdown', first?.name ?? '').out).toMatch(/^# /);
  });

  test.each([
    ['merged-press', 'merged-press: there is no such rule. Did you mean merged-presses?'],
    ['qqqqqqqqqq', 'qqqqqqqqqq: there is no such rule. tiptoe explain lists them all.'],
    ['__proto__', '__proto__: there is no such rule. tiptoe explain lists them all.'],
  ])('%s is unknown', (name, line) => {
    expect(run(name)).toEqual({ code: 2, out: '', err: `tiptoe: ${line}\n` });
  });
});
