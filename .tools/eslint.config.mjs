import js from '@eslint/js';
import tseslint from 'typescript-eslint';

export default tseslint.config(
  { ignores: ['**/node_modules/**', '**/.build/**'] },
  js.configs.recommended,
  {
    files: ['**/*.ts'],
    extends: [...tseslint.configs.strictTypeChecked],
    languageOptions: { parserOptions: { projectService: true } },
    rules: {
      '@typescript-eslint/no-extraneous-class': 'off', // Nest modules are empty classes
      '@typescript-eslint/no-useless-constructor': 'off', // Nest reads what to inject from the constructor
      '@typescript-eslint/no-unsafe-class-instance-assignment': 'off', // DTO and entity classes are shapes of plain data
      '@typescript-eslint/no-misused-spread': 'off', // the same
      '@typescript-eslint/restrict-template-expressions': ['error', { allowNumber: true, allowBoolean: true }],
      '@typescript-eslint/no-unused-vars': ['error', { argsIgnorePattern: '^_' }],
      '@typescript-eslint/consistent-type-imports': 'off', // a DTO imported as a type loses its validation
      '@typescript-eslint/unbound-method': ['error', { ignoreStatic: true }],
      eqeqeq: ['error', 'always', { null: 'ignore' }],
      'no-console': 'error',
    },
  },
  {
    files: ['**/*.mjs'],
    languageOptions: { globals: { process: 'readonly', console: 'readonly', URL: 'readonly', setTimeout: 'readonly', clearTimeout: 'readonly' } },
  },
  {
    files: ['**/*.spec.ts', '**/*-spec.ts', 'test/**/*.ts'],
    rules: { '@typescript-eslint/no-non-null-assertion': 'off', '@typescript-eslint/no-floating-promises': 'off' },
  },
);
