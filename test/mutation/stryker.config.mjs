// How one file of the engine is changed, mutant by mutant, and which tests have to notice; run.mjs names both.
import path from 'node:path';

const out = 'dist.mutation';
const { MUTATED: mutated = '', MUTATION_WORKERS: workers = '2' } = process.env;
const name = mutated
  .replace(/^engine\//, '')
  .replace(/\.ts$/, '')
  .replaceAll('/', '-');

export default {
  mutate: [mutated],
  testRunner: 'vitest',
  plugins: [path.resolve(import.meta.dirname, 'node_modules/@stryker-mutator/vitest-runner/dist/src/index.js')],
  vitest: { configFile: 'test/mutation/vitest.config.ts', related: false },
  coverageAnalysis: 'perTest',
  concurrency: Number(workers),
  tempDirName: `${out}/sandbox`,
  reporters: ['clear-text', 'json'],
  clearTextReporter: { allowColor: false, reportTests: false, allowEmojis: false, reportScoreTable: false },
  jsonReporter: { fileName: `${out}/${name}.json` },
  ignorePatterns: [
    '/dist',
    '/dist.*',
    '/client',
    '/test/host',
    '/test/bench',
    '/test/mutation/node_modules',
    `/${out}`,
  ],
  // Types are stripped when the tests run; nothing is compiled.
  disableTypeChecks: false,
  // None: it would be rewritten with a compiler interface that TypeScript 7 no longer has.
  tsconfigFile: 'test/mutation/no-tsconfig.json',
  thresholds: { high: 95, low: 85, break: null },
};
