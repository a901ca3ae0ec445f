// Runs the reference tests, all or those named, and writes what they compared, and how near it came, into README.md.
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { startVitest } from 'vitest/node';
import { referenceRows, referenceTable, rowsOfTable } from '../kit/reference-table.ts';
import { files, importsOf } from '../tidy/sources.ts';

const folder = import.meta.dirname;
const root = path.resolve(folder, '../..');
const readme = path.join(folder, 'README.md');
const wanted = process.argv.slice(2).map(name => `test/reference/${name.replace(/\.test\.ts$/, '')}.test.ts`);

const vitest = await startVitest('test', wanted.length > 0 ? wanted : ['test/reference/'], {
  config: path.join(root, 'test/vitest.config.ts'),
  watch: false,
  silent: true,
});
const modules = vitest.state.getTestModules();
const failed = modules.filter(module => !module.ok()).map(module => module.moduleId);
const compared = modules.map(module => {
  const file = path.relative(folder, module.moduleId);
  const asks = importsOf(`test/reference/${file}`).filter(one => one.startsWith('engine/'));
  const figures = [...module.children.allTests()].flatMap(test => test.meta().compared ?? []);
  return { file, asks: [...asks].sort(), compared: figures };
});
await vitest.close();

if (failed.length > 0) throw new Error(`No table from a run with failures: ${failed.join(', ')}`);
const empty = compared.filter(one => one.compared.length === 0).map(({ file }) => file);
if (empty.length > 0) throw new Error(`Nothing is compared in ${empty.join(', ')}: see test/kit/reference.ts.`);

const before = existsSync(readme) ? rowsOfTable(readFileSync(readme, 'utf8')) : new Map();
const kept = [...before].filter(([file]) => files.includes(`test/reference/${file}`));
const rows = new Map([...kept, ...compared.map(one => [one.file, referenceRows(one)])]);
writeFileSync(readme, referenceTable(rows));
process.stdout.write(`Wrote the rows of ${compared.length} files into test/reference/README.md.\n`);
