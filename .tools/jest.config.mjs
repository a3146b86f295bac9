// `npm run jest` runs both projects; `npm run jest -- --selectProjects fast` leaves the slow campaigns out,
// and `npm run jest -- test/e2e/trace` runs one file.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
const swc = JSON.parse(readFileSync(new URL('../.swcrc', import.meta.url), 'utf8'));
const swcToCommonJs = { ...swc, module: { type: 'commonjs' } };

const shared = {
  rootDir: root,
  testEnvironment: 'node',
  extensionsToTreatAsEsm: ['.ts'],
  testEnvironmentOptions: { customExportConditions: ['source', 'node', 'node-addons'] },
  moduleNameMapper: { '^(\\.{1,2}/.*)\\.js$': '$1' },
  transform: {
    '^.+\\.ts$': ['@swc/jest', swc],
    // CommonJS packages require these two ES modules, which Jest cannot do before Node 24.9.
    '/node_modules/(content-disposition|cookie)/.+\\.js$': ['@swc/jest', swcToCommonJs],
  },
  transformIgnorePatterns: ['/node_modules/(?!(content-disposition|cookie)/)'],
  modulePathIgnorePatterns: ['<rootDir>/.build', '<rootDir>/.data', '<rootDir>/.test-data'],
  setupFiles: ['reflect-metadata'],
  globalSetup: '<rootDir>/test/setup/start-database.mjs',
  globalTeardown: '<rootDir>/test/setup/stop-database.mjs',
};

export default {
  rootDir: root,
  maxWorkers: 2,
  // Modules of finished files stay in a worker's memory: near its limit of 4 GB collecting takes longer than the tests.
  workerIdleMemoryLimit: '1.5GB',
  // Starting the program takes its time on a busy machine, and says nothing about it.
  testTimeout: 30_000,
  projects: [
    {
      ...shared,
      displayName: 'fast',
      testMatch: ['**/*.spec.ts', '**/*.e2e-spec.ts'],
      testPathIgnorePatterns: ['/node_modules/', '\\.slow-spec\\.ts$'],
    },
    { ...shared, displayName: 'slow', testMatch: ['**/*.slow-spec.ts'] },
  ],
};
