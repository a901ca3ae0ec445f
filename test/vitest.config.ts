// Which tests vitest runs: all but those that run inside an editor, and the benchmarks.
import path from 'node:path';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: path.resolve(import.meta.dirname, '..'),
  test: {
    include: ['test/**/*.test.ts'],
    exclude: ['test/host/**', 'test/bench/**', '**/node_modules/**'],
    // Left alone, one of two cores would wait.
    maxWorkers: '100%',
    testTimeout: 180_000,
    hookTimeout: 180_000,
  },
});
