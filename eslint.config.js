import eslint from '@eslint/js';
import { defineConfig } from 'eslint/config';
import tseslint from 'typescript-eslint';

/** Default exports have no name of their own: they are found by path only and renamed at each use. */
const noDefaultExports = {
  'no-restricted-syntax': [
    'error',
    {
      selector: 'ExportDefaultDeclaration',
      message: 'Export by name: a default export goes by another name in each file.',
    },
    {
      selector: 'ExportSpecifier[exported.name="default"]',
      message: 'Export by name: a default export goes by another name in each file.',
    },
  ],
};

const unused = {
  '@typescript-eslint/no-unused-vars': [
    'error',
    { argsIgnorePattern: '^_', varsIgnorePattern: '^_', caughtErrorsIgnorePattern: '^_' },
  ],
};

export default defineConfig(
  { ignores: ['**/dist/', '.build/', '.cache/', 'coverage/', '**/node_modules/'] },
  { linterOptions: { reportUnusedDisableDirectives: 'error' } },
  eslint.configs.recommended,
  {
    files: ['**/*.ts'],
    extends: [tseslint.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true } },
    rules: {
      ...noDefaultExports,
      ...unused,
      '@typescript-eslint/no-explicit-any': 'error',
      '@typescript-eslint/no-floating-promises': 'error',
      '@typescript-eslint/no-non-null-assertion': 'error',
      '@typescript-eslint/consistent-type-imports': 'error',
      '@typescript-eslint/switch-exhaustiveness-check': [
        'error',
        { considerDefaultExhaustiveForUnions: true },
      ],
      // Numbers are what this project prints; asking for String() around each says nothing new.
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true }],
      // `while (true)` with a return inside is how scanners and machines read best.
      '@typescript-eslint/no-unnecessary-condition': [
        'error',
        { allowConstantLoopConditions: 'only-allowed-literals' },
      ],
      '@typescript-eslint/no-confusing-void-expression': ['error', { ignoreArrowShorthand: true }],
    },
  },
  {
    files: ['tests/**/*.ts'],
    rules: {
      // Tests hand wrong values in on purpose, and read JSON whose shape the assertion checks.
      '@typescript-eslint/no-unsafe-assignment': 'off',
      '@typescript-eslint/no-unsafe-member-access': 'off',
      '@typescript-eslint/no-unsafe-argument': 'off',
      '@typescript-eslint/no-unsafe-call': 'off',
      '@typescript-eslint/no-unsafe-return': 'off',
    },
  },
  {
    files: ['**/*.{js,mjs,cjs}'],
    rules: { ...noDefaultExports, 'no-unused-vars': ['error', { argsIgnorePattern: '^_' }] },
    languageOptions: {
      globals: { process: 'readonly', console: 'readonly', URL: 'readonly', Buffer: 'readonly' },
    },
  },
  {
    files: ['**/*.cjs'],
    languageOptions: {
      sourceType: 'commonjs',
      globals: {
        require: 'readonly',
        module: 'readonly',
        __dirname: 'readonly',
        __filename: 'readonly',
      },
    },
  },
  {
    // The tools that read these files ask for a default export.
    files: ['**/*.config.{js,ts}', '*.config.{js,ts}'],
    rules: { 'no-restricted-syntax': 'off' },
  },
);
