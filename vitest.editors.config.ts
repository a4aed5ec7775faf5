import { defineConfig } from 'vitest/config';

/**
 * Tests that drive real editors. They need programs of the distribution (`.ci/run` installs them), so
 * `npm test` leaves them out; `npm run test:editors` runs them.
 */
export default defineConfig({
  test: {
    include: ['tests/editors/**/*.test.ts'],
    fileParallelism: false,
    testTimeout: 240_000,
    hookTimeout: 240_000,
  },
});
