import { describe, expect, test } from 'vitest';
import { RULES, describe as inWords } from '@core/rules/registry.js';
import type { Rule } from '@core/rules/rule.js';
import { findingsOf, NOTE, withGame } from './support.js';

const BROKEN = new Map([['broken.tiptoe', 'let broken = D 4']]);

function findings(text: string) {
  return findingsOf(new Map([...BROKEN, [NOTE, withGame(text)]]));
}

describe.each((RULES as readonly Rule[]).map((rule) => [rule.name, rule] as const))(
  '%s',
  (name, rule) => {
    const found = findings(rule.page.bad).filter((finding) => finding.rule === name);

    test('has a page that says what, why and what instead', () => {
      for (const text of [rule.title, rule.page.what, rule.page.why]) {
        expect(text).toMatch(/^\S.*[.)]$/s);
      }
      expect(rule.page.bad).not.toBe(rule.page.instead);
    });

    test('reports the example of its page', () => {
      expect(found).not.toEqual([]);
    });

    test('reports nothing in what the page writes instead, nor does any other rule', () => {
      expect(findings(rule.page.instead)).toEqual([]);
    });

    test('says what is wrong, why, and one way out, with every number filled in', () => {
      for (const finding of found) {
        const { title, reason, wayOut } = inWords(finding);
        for (const text of [title, reason, wayOut]) {
          expect(text).toMatch(/\S/);
          expect(text).not.toMatch(/undefined|NaN|\[object|Infinity/);
        }
        expect(title).not.toMatch(/\.$/);
        expect(reason).toMatch(/[.:]\S*$/);
      }
    });

    test('has fixes exactly where its page tells of one', () => {
      const fixes = found.flatMap((finding) => finding.fixes);
      expect(fixes.length > 0).toBe(rule.page.fix !== undefined);
    });
  },
);
