// The benchmark: measures ours and its peers in alternation, prints one table, writes it as JSON. Asserts nothing.
//
//   node test/bench/run.mjs [--quick] [--only WORD] [--dist FOLDER]
import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { parseArgs } from 'node:util';
import { installPeers } from './install.mjs';
import { benchFolder, root } from './subjects.mjs';
import { judge, printTable } from './table.mjs';

const { values: options } = parseArgs({
  options: {
    /** Fewer rounds, and no documents of 10,000 lines. */
    quick: { type: 'boolean', default: false },
    /** Only the group of rows whose name begins so: editing, starting, checking, engine, packaging. */
    only: { type: 'string' },
    /** Measures another build than dist/. */
    dist: { type: 'string', default: path.join(root, 'dist') },
  },
});

const say = text => process.stderr.write(`  ${text} …\n`);
const dist = path.resolve(options.dist);
if (!existsSync(path.join(dist, 'server.cjs'))) throw new Error('Nothing is built: run "npm run build" first.');
installPeers(say);

/** What has a target, and can't be measured before it can be done. */
const notBuiltYet = [
  ['load profile', 'load profile of a year at 1 s, file to result'],
  ['candidates', 'candidates, 10,000 combinations'],
].map(([name, what]) => ({ name, what, missing: 'not built yet' }));

const load = os.loadavg()[0];
const started = performance.now();
const rows = [];
for (const group of await groups()) {
  if (options.only !== undefined && !group.name.startsWith(options.only)) continue;
  process.stderr.write(`${group.name}: ${group.about}\n`);
  rows.push(...(await group.run(settings())));
}
if (rows.length === 0) throw new Error(`There are no rows "${options.only}".`);
if (options.only === undefined) rows.push(...notBuiltYet);

const minutes = (performance.now() - started) / 60_000;
console.log(printTable(rows));
console.log(`
${os.cpus().length} × ${os.cpus()[0]?.model}, node ${process.version}, ${minutes.toFixed(1)} min, load ${load.toFixed(1)} before.
Medians of rounds in which all take turns. Compare within a row: absolute times drift by a factor of two on shared machines.`);
const file = writeJson();
console.log(`Written to ${path.relative(process.cwd(), file)}.`);

async function groups() {
  const modules = ['editing', 'starting', 'checking', 'engine', 'packaging'];
  return Promise.all(modules.map(async name => (await import(`./rows/${name}.mjs`))[name]));
}

function settings() {
  const { quick } = options;
  return { dist, quick, say, rounds: quick ? 3 : 7, sizes: quick ? [100, 1000] : [100, 1000, 10_000] };
}

function writeJson() {
  const folder = path.join(benchFolder, 'out');
  mkdirSync(folder, { recursive: true });
  const at = new Date().toISOString();
  const to = path.join(folder, `${at.replaceAll(':', '-').slice(0, 19)}.json`);
  const machine = { cpus: os.cpus().length, model: os.cpus()[0]?.model, node: process.version, load };
  const judged = rows.map(row => ({ ...row, reached: judge(row) }));
  writeFileSync(to, `${JSON.stringify({ at, quick: options.quick, minutes, machine, rows: judged }, null, 2)}\n`);
  return to;
}
