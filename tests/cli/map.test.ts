import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { root } from '../house/workspace.js';
import { expectNoTrace, Folder } from './folder.js';

const NOTE = `game "Tin Pier" {
  clock 60 settle 5
  inputs { U = y -1 D = y +1 L = x -1 R = x +1 }
  pause P { open 2 dwell 4 resume 2 }
}
seen { @a : U -> @b x4  @b : U -> @a x4  @a : R -> @c x2 }
route walk from @a to @c { choose way { far { U U R } near { R } } }
route loop from @a { U*9 }
`;
const folder = (text = NOTE) => new Folder({ 'pier.tiptoe': text });

describe('tiptoe map', () => {
  test('draws the course of the first route, of a named one, and with a way chosen', () => {
    const here = folder();
    const course = (...args: string[]): string => {
      const { out, err, code } = here.run(['map', 'pier.tiptoe', ...args]);
      expect({ err, code }).toEqual({ err: '', code: 0 });
      return /The route goes ([^<]*)\./.exec(out)?.[1] ?? '';
    };
    expect(course()).toBe('@a, @b, @a, @c');
    expect(course('--choose', 'way=near')).toBe('@a, @c');
    expect(course('--route', 'loop')).toMatch(/^@a, @b, @a/);
  });

  test('prints DOT, and draws a log without routes', () => {
    expect(folder().run(['map', 'pier.tiptoe', '--format', 'dot']).out).toMatch(/^digraph spots \{\n/);
    const plain = folder(NOTE.replace(/^route.*\n/gm, ''));
    const { out, code } = plain.run(['map', 'pier.tiptoe']);
    expect(code).toBe(0);
    expect(out).toContain('<title id="map-title">Tin Pier: spots and moves</title>');
  }); // prettier-ignore

  test('draws the examples', () => {
    for (const file of ['saltmarsh/barrier', 'saltmarsh/log', 'lanternworks/chimney']) {
      const path = join(root, 'examples', `${file}.tiptoe`);
      const { out, err, code } = new Folder().run(['map', path]);
      expect({ err, code }).toEqual({ err: '', code: 0 });
      expect(out).toMatch(/^<svg /);
    }
  });

  test.each([
    [['map', 'none.tiptoe'], /^tiptoe: none\.tiptoe: /],
    [['map', 'pier.tiptoe', '--route', 'wlak'], /no route wlak. Did you mean walk\?/],
    [['map', 'pier.tiptoe', '--choose', 'way=nearr'], /Did you mean near\?/],
    [['map', 'pier.tiptoe', '--format', 'png'], /png/],
    [['map'], /file/],
  ])('%j is refused in a line, with exit code 2', (args, words) => {
    const { out, err, code } = folder().run(args);
    expect({ out, code }).toEqual({ out: '', code: 2 });
    expect(err).toMatch(words);
    expectNoTrace(err);
  });

  test('says what a log is where there is none, and where it is too large to draw', () => {
    const none = folder(NOTE.replace(/^seen.*\n/m, '')).run(['map', 'pier.tiptoe']);
    expect(none).toMatchObject({ code: 2, out: '' });
    expect(none.err).toContain('there is no log to draw. Add seen rows');
    const rows = Array.from({ length: 2001 }, (_, i) => `@s${i} : D -> @s${i + 1}`).join('\n');
    const large = folder(`${NOTE}seen {\n${rows}\n}\n`).run(['map', 'pier.tiptoe']);
    expect(large).toMatchObject({ code: 2, out: '' });
    expect(large.err).toContain('too many to draw (limit 2000)');
  });

  test('does not overwrite a file unless told to', () => {
    const here = folder();
    here.write('map.svg', 'mine');
    expect(here.run(['map', 'pier.tiptoe', '-o', 'map.svg']).code).toBe(2);
    expect(here.read('map.svg')).toBe('mine');
    expect(here.run(['map', 'pier.tiptoe', '-o', 'map.svg', '--force']).code).toBe(0);
    expect(here.read('map.svg')).toMatch(/^<svg /);
  });
});
