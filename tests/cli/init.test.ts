import { describe, expect, test } from 'vitest';
import { STARTER } from '@core/cli/starter/files.js';
import { Folder } from './folder.js';

const names = STARTER.map(({ name }) => name).sort();

describe('tiptoe init', () => {
  test('makes notes that check clean with no warning allowed, are laid out, and have a table', () => {
    const folder = new Folder();
    const { code, err } = folder.run(['init', 'new/quay']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(folder.list().filter((path) => path.endsWith('.tiptoe'))).toEqual(
      names.map((name) => `new/quay/${name}`),
    );
    expect(folder.run(['check', '--max-warnings', '0']).out).toBe(
      '2 notes checked: nothing to report.\n',
    );
    expect(folder.run(['fmt', '--check']).code).toBe(0);
    expect(folder.run(['frames', 'new/quay/first-setup.tiptoe']).code).toBe(0);
  });

  test('replaces nothing, and adds nothing to what it cannot finish', () => {
    const [kept = ''] = names;
    const folder = new Folder({ [kept]: 'mine' });
    const { code, err } = folder.run(['init']);
    expect(code).toBe(2);
    expect(err).toBe(
      `tiptoe: ${kept}: it exists already. Name another folder: tiptoe init FOLDER.\n`,
    );
    expect(folder.read(kept)).toBe('mine');
    expect(folder.list()).toEqual([kept]);
  });

  test('refuses a file in the place of the folder', () => {
    const { code, err } = new Folder({ quay: '' }).run(['init', 'quay']);
    expect(code).toBe(2);
    expect(err).toMatch(/^tiptoe: quay: nothing can be written there: .*\n$/);
  });
});
