import { expect, test } from 'vitest';
import { version } from '@core/cli/version.js';

test('the alias reaches the sources, which know that no bundler has stamped them', () => {
  expect(version).toBe('development');
});
