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
    // Those need programs that npm does not carry: vitest.editors.config.ts.
    exclude: ['tests/editors/**', '**/node_modules/**'],
    // A hang must end the run; no test asserts on time.
    testTimeout: 60_000,
    hookTimeout: 300_000,
  },
});
