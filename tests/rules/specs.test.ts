import { readdirSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { withLabels } from '../support/marks.js';
import { casesOf, outcome } from './support.js';

/**
 * The cases stand in Markdown files under `specs`. Under each source line the expected findings are
 * drawn; one that is not expected fails as well as one that is missing.
 */
const folder = new URL('specs/', import.meta.url);

for (const file of readdirSync(folder).sort()) {
  describe(file.replace('.md', ''), () => {
    for (const { name, marked } of casesOf(new URL(file, folder))) {
      test(name, () => {
        const { text, expected, found } = outcome(marked);
        expect(withLabels(text, found)).toBe(withLabels(text, expected));
      });
    }
  });
}
