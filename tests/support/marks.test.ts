import { describe, expect, test } from 'vitest';
import { cursor, files, labels, withLabels } from './marks.js';

describe('labels', () => {
  test('name what stands above them and leave the text', () => {
    const { text, labels: found } = labels(
      'let a = D 4\n        ^ press\n          ^ count\nlet b\n     ^| missing / =',
    );
    expect(text).toBe('let a = D 4\nlet b');
    expect(found.map(({ span, words }) => [text.slice(span.start, span.end), words])).toEqual([
      ['D', 'press'],
      ['4', 'count'],
      ['', 'missing / ='],
    ]);
    expect(found[2]?.span).toEqual({ start: 17, end: 17 });
  });

  test('are drawn as they were written', () => {
    const marked = 'ab cd\n^^ first\n   ^^\n\nef\n  ^| end';
    const { text, labels: found } = labels(marked);
    expect(withLabels(text, found)).toBe(marked);
  });

  test('are no labels with other signs on the line', () => {
    const plain = 'x ^ y\n^^^a\n';
    expect(labels(plain)).toEqual({ text: plain, labels: [] });
  });
});

describe('the cursor', () => {
  test('is taken out, and a bar behind a backslash is a bar', () => {
    expect(cursor('a\\|b|c\\|')).toEqual({ text: 'a|bc|', offset: 3 });
  });

  test.each(['none', 'two | of | them'])('must be there once: %s', (text) => {
    expect(() => cursor(text)).toThrow('cursor');
  });
});

describe('files', () => {
  test('are cut at their names', () => {
    const found = files('\n//- a.tiptoe\nlet a = D\n//- sub/b.tiptoe\nlet b = R\n');
    expect([...found]).toEqual([
      ['a.tiptoe', 'let a = D'],
      ['sub/b.tiptoe', 'let b = R\n'],
    ]);
  });

  test('without a name are one', () => {
    expect([...files('let a = D\n')]).toEqual([['note.tiptoe', 'let a = D\n']]);
  });
});
