import { fileURLToPath } from 'node:url';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  resolve: {
    alias: {
      '@core': fileURLToPath(new URL('packages/notation-core/src', import.meta.url)),
      '@lsp': fileURLToPath(new URL('packages/lsp/src', import.meta.url)),
    },
  },
  test: {
    include: ['tests/**/*.test.ts'],
    // A hang must end the run; no test asserts on time.
    testTimeout: 60_000,
    hookTimeout: 300_000,
  },
});
