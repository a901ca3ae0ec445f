// Rows inside one process: the whole sizing against a spreadsheet and plain code, edits against a cold start, parsing.
import { readFileSync } from 'node:fs';
import path from 'node:path';
import { HyperFormula } from 'hyperformula';
import { plantDocument } from '../inputs/plant.mjs';
import { createRandom } from '../inputs/random.mjs';
import { jsonDocument } from '../inputs/typed.mjs';
import { parseJson } from '../json-grammar.mjs';
import { median, takeTurns, timeOf } from '../measure.mjs';
import { root } from '../subjects.mjs';

const settings = { today: '2026-01-01' };
const inputCount = 60;

export const engine = {
  name: 'engine',
  about: 'in one process, warmed up',
  run: async ({ rounds, say }) => {
    const ours = await load();
    say('sizing');
    const sizing = await sizingRow(ours, rounds);
    say('incremental');
    const incremental = await incrementalRow(ours, rounds);
    say('parsers');
    return [sizing, incremental, await parserRow(ours, rounds)];
  },
};

async function load() {
  const at = file => import(path.join(root, file));
  const [{ parse }, { analyze }] = await Promise.all([at('grammar/parse.ts'), at('engine/analyze.ts')]);
  return { parse, analyze };
}

/** Everything that is derived of the sample plant, every value at every point, from the tree to the findings. */
async function sizingRow({ parse, analyze }, rounds) {
  const main = 'valley-station.plant';
  const names = [main, 'house-rules.plant', 'parts/lfp-string.plant', 'parts/converters.plant'];
  const files = new Map(
    names.map(name => {
      return [name, { state: 'text', tree: parse(readFileSync(path.join(root, 'client/starter', name), 'utf8')) }];
    }),
  );
  const size = () => {
    const analysis = analyze(main, { files }, settings);
    for (const name of analysis.values.names) analysis.values.worst(name);
    return analysis;
  };
  const { values } = size();
  const formulas = values.names.reduce((sum, name) => sum + values.all(name).length, 0);
  const sheet = createSheet(formulas);
  const plain = createPlainCode(formulas);
  const actors = [
    { name: 'ours', work: size },
    { name: 'spreadsheet', work: sheet },
    { name: 'plain code', work: plain },
  ];
  for (const { work } of actors) timeOf(20, work);
  const gathered = await takeTurns(rounds, actors, ({ work }) => timeOf(9, work));
  return {
    name: 'sizing',
    what: `whole sizing of the sample, warm, against recalculating as many formulas (${formulas.toLocaleString('en')})`,
    unit: 'ms',
    figures: Object.fromEntries([...gathered].map(([name, times]) => [name, median(times)])),
    match: [{ most: 1, of: 'spreadsheet' }],
    beyond: [{ most: 20, of: 'plain code' }],
  };
}

/** Each formula reads the first input, another one and a formula before it, so that a change of the first reaches all. */
function formulaSources(count) {
  const random = createRandom(11);
  return Array.from({ length: count }, (_, index) => ({
    input: random.whole(1, inputCount - 1),
    before: index === 0 ? -1 : random.whole(Math.max(0, index - 40), index - 1),
  }));
}

function createSheet(count) {
  const inputs = Array.from({ length: inputCount }, (_, index) => [1 + index / inputCount]);
  const formulas = formulaSources(count).map(({ input, before }) => {
    return [`=SQRT(A1*A${input + 1}+0.5*${before < 0 ? 'A1' : `A${inputCount + before + 1}`})`];
  });
  const config = { licenseKey: 'gpl-v3', maxRows: count + inputCount + 1 };
  const sheet = HyperFormula.buildFromArray([...inputs, ...formulas], config);
  let turn = 0;
  return () => {
    turn++;
    const changed = sheet.setCellContents({ sheet: 0, row: 0, col: 0 }, 1 + turn / 1000);
    if (changed.length < count) throw new Error(`The sheet recalculated ${changed.length} cells of ${count}.`);
  };
}

function createPlainCode(count) {
  const inputs = Float64Array.from({ length: inputCount }, (_, index) => 1 + index / inputCount);
  const results = new Float64Array(count);
  const sources = formulaSources(count);
  const [input, before] = [sources.map(source => source.input), sources.map(source => source.before)].map(list =>
    Int32Array.from(list),
  );
  let turn = 0;
  return () => {
    turn++;
    inputs[0] = 1 + turn / 1000;
    for (let index = 0; index < count; index++) {
      const last = before[index] < 0 ? inputs[0] : results[before[index]];
      results[index] = Math.sqrt(inputs[0] * inputs[input[index]] + 0.5 * last);
    }
    if (!(results[count - 1] > 0)) throw new Error('The plain code computed nothing.');
  };
}

/** Parsing and analysing 1,000 lines after an edit, with and without what was known before. */
async function incrementalRow({ parse, analyze }, rounds) {
  const document = plantDocument(1000);
  const random = createRandom(3);
  const lines = document.text.split('\n');
  let tree = parse(document.text);
  let analysis;
  const edit = () => {
    const { line, character } = random.of(document.numbers);
    const digit = (Number(lines[line][character]) + random.whole(1, 8)) % 10;
    lines[line] = `${lines[line].slice(0, character)}${digit}${lines[line].slice(character + 1)}`;
  };
  const step = previous => {
    const text = lines.join('\n');
    const before = performance.now();
    tree = parse(text, previous === undefined ? undefined : tree);
    const files = new Map([['station.plant', { state: 'text', tree }]]);
    analysis = analyze('station.plant', { files }, settings, previous);
    return performance.now() - before;
  };
  step();
  for (let index = 0; index < 60; index++) {
    edit();
    step(analysis);
  }
  const actors = [{ name: 'ours' }, { name: 'cold' }];
  const gathered = await takeTurns(rounds * 3, actors, ({ name }) => {
    edit();
    if (name === 'cold') return step();
    const times = [];
    for (let index = 0; index < 10; index++) {
      times.push(step(analysis));
      edit();
    }
    return median(times);
  });
  return {
    name: 'incremental',
    what: 'an edit in 1,000 lines, parsed and analysed, against analysing all of it anew',
    unit: 'ms',
    figures: Object.fromEntries([...gathered].map(([name, times]) => [name, median(times)])),
    match: [],
    beyond: [],
  };
}

async function parserRow({ parse }, rounds) {
  const [plant, json] = [plantDocument(10_000).text, jsonDocument(10_000).text];
  const perMegabyte = text => 1e6 / Buffer.byteLength(text);
  const actors = [
    { name: 'ours', work: () => parse(plant), scale: perMegabyte(plant) },
    { name: 'chevrotain JSON', work: () => parseJson(json), scale: perMegabyte(json) },
  ];
  for (const { work } of actors) timeOf(5, work);
  const gathered = await takeTurns(rounds, actors, ({ work, scale }) => timeOf(5, work) * scale);
  return {
    name: 'parser',
    what: 'parsing 10,000 lines from nothing, per megabyte',
    unit: 'ms/MB',
    figures: Object.fromEntries([...gathered].map(([name, times]) => [name, median(times)])),
    match: [{ most: 1, of: 'chevrotain JSON' }],
    beyond: [{ most: 1 / 1.5, of: 'chevrotain JSON' }],
  };
}
