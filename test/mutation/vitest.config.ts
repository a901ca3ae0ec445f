// Which tests judge the mutants of a file: those that run.mjs found to ask it directly.
import path from 'node:path';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  root: path.resolve(import.meta.dirname, '../..'),
  test: {
    include: (process.env['MUTATION_TESTS'] ?? '').split(' ').filter(Boolean),
    testTimeout: 60_000,
  },
});
