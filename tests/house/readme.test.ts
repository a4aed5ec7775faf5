import { readFileSync } from 'node:fs';
import { SaxesParser } from 'saxes';
import { describe, expect, test } from 'vitest';
import { render, target } from '../../packages/notation-core/scripts/generate-readme.mjs';
import { kept, PICTURES } from '../../packages/notation-core/scripts/pictures.mjs';

describe('the README', () => {
  test('has the tables that npm run generate makes', async () => {
    const text = readFileSync(target, 'utf8');
    expect(await render(text)).toBe(text);
  });

  test('is refused where its marks are gone', async () => {
    await expect(render('# Tiptoe')).rejects.toThrow('no place marked');
  });

  test.each(Object.keys(PICTURES))('shows %s as the commands print it now', (name) => {
    const drawn = PICTURES[name]?.() ?? '';
    expect(kept(name)).toBe(drawn);
    const parser = new SaxesParser({ xmlns: true });
    parser.on('error', (error) => {
      throw error;
    });
    parser.write(drawn).close();
  });
});
