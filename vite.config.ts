import { defineConfig } from 'vitest/config';

/** One file configures the page's build and the test lanes. */
export default defineConfig({
  build: { target: 'es2022', sourcemap: false },
  worker: { format: 'es' },
  test: {
    projects: [
      {
        extends: true,
        test: {
          name: 'unit',
          include: ['test/**/*.test.ts'],
          exclude: ['test/browser/**'],
          environment: 'node',
          testTimeout: 60_000,
          // By default one core of two would lie idle.
          maxWorkers: 2,
          sequence: { groupOrder: 0 },
        },
      },
      {
        extends: true,
        test: {
          name: 'browser',
          include: ['test/browser/**/*.test.ts'],
          environment: 'node',
          globalSetup: ['test/browser/globalSetup.ts'],
          testTimeout: 120_000,
          hookTimeout: 180_000,
          fileParallelism: false,
          // After the unit tests, so that the browser has both cores.
          sequence: { groupOrder: 1 },
        },
      },
    ],
  },
});
