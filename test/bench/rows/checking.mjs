// Rows on the command `check`: one plant against an empty script, and many plants.
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fleetParts, fleetPlant } from '../inputs/plant.mjs';
import { peakMemory } from '../language-server.mjs';
import { median, takeTurns } from '../measure.mjs';
import { root } from '../subjects.mjs';

export const checking = {
  name: 'checking',
  about: 'the command, process start included',
  run: async ({ dist, rounds, quick, say }) => {
    const folder = mkdtempSync(path.join(tmpdir(), 'bench-'));
    try {
      say('check, one plant');
      const one = await onePlant(dist, rounds);
      return [one, ...(await manyPlants(dist, folder, quick ? [20, 200] : [100, 1000], say))];
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};

async function onePlant(dist, rounds) {
  const sample = path.join(root, 'client/starter/valley-station.plant');
  const actors = [
    { name: 'ours', args: [path.join(dist, 'wattwright.cjs'), 'check', sample] },
    { name: 'empty script', args: ['-e', '0'] },
  ];
  // The first run fills the cache of compiled code.
  await run(actors[0].args);
  const gathered = await takeTurns(rounds * 4, actors, async ({ args }) => (await run(args)).time);
  const figures = Object.fromEntries([...gathered].map(([name, times]) => [name, median(times)]));
  return {
    name: 'check one',
    what: '`check` of the sample plant, against `node -e 0`',
    unit: 'ms',
    figures,
    match: [{ most: 4, of: 'empty script' }],
    beyond: [{ most: 2.5, of: 'empty script' }],
  };
}

async function manyPlants(dist, folder, counts, say) {
  const measured = new Map();
  for (const count of counts) {
    say(`check, ${count} plants`);
    const at = path.join(folder, String(count));
    writeFleet(at, count);
    measured.set(count, await run([path.join(dist, 'wattwright.cjs'), 'check', at, '--format', 'json']));
  }
  const [few, many] = [...measured.values()];
  const [fewCount, manyCount] = counts;
  return [
    {
      name: 'check many',
      what: `\`check\` of ${manyCount} plants with shared parts, against ${fewCount} (100 lines each)`,
      unit: 'ms',
      figures: { ours: many.time, 'a tenth of them': few.time },
      match: [{ most: 11, of: 'a tenth of them' }],
      beyond: [{ most: 6, of: 'a tenth of them' }],
    },
    {
      name: 'check many memory',
      what: `peak memory of \`check\` of ${manyCount} plants`,
      unit: 'MB',
      figures: { ours: toMegabytes(many.memory), 'a tenth of them': toMegabytes(few.memory) },
      match: [{ most: 400 }],
      beyond: [],
    },
  ];
}

function writeFleet(folder, count) {
  mkdirSync(path.join(folder, 'parts'), { recursive: true });
  writeFileSync(path.join(folder, 'package.json'), '{}');
  writeFileSync(path.join(folder, 'parts/strings.plant'), fleetParts());
  for (let index = 1; index <= count; index++)
    writeFileSync(path.join(folder, `station-${index}.plant`), fleetPlant(index));
}

const toMegabytes = bytes => (bytes === undefined ? undefined : bytes / 1e6);

/** Runs a script to its end. A run that could not do its work is no figure. */
function run(args) {
  return new Promise((resolve, reject) => {
    const before = performance.now();
    const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe'] });
    let memory;
    const watch = setInterval(() => {
      memory = peakMemory(child.pid) ?? memory;
    }, 50);
    let complaints = '';
    child.stderr.on('data', data => {
      complaints += data;
    });
    child.on('error', reject);
    child.on('close', code => {
      const time = performance.now() - before;
      clearInterval(watch);
      if (code === 0 || code === 1) resolve({ time, memory });
      else reject(new Error(`${args.join(' ')} ended with ${code}: ${complaints}`));
    });
  });
}
