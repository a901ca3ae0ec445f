// Mutation testing of engine/physics and engine/checks: changes each file in hundreds of ways, one at a time, and counts
// which changes the tests that ask this file notice. Not a part of "npm test": a file takes minutes.
//
//   npm run mutation [FILE…]          engine/physics/loading.ts, or loading for short; without one, all of them
//   npm run mutation -- --nightly 6   for so many hours, what nobody has counted as it now stands before the rest; fails
//                                     where a file falls short of the aim and no remark says why
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { isSubject, isUpToDate, leastShare, percent, scoresOf } from '../kit/mutation-scores.ts';
import { files, importsOf, textOf } from '../tidy/sources.ts';
import { remarks } from './remarks.ts';

const folder = import.meta.dirname;
const root = path.resolve(folder, '../..');
const out = path.join(root, 'dist.mutation');
const nightly = process.argv[2] === '--nightly' ? Number(process.argv[3]) : undefined;
const wanted = nightly === undefined ? process.argv.slice(2) : [];
if (Number.isNaN(nightly)) throw new Error('After --nightly comes a number of hours.');

const subjects = files.filter(isSubject).filter(file => {
  return wanted.length === 0 || wanted.some(word => word === file || word === path.basename(file, '.ts'));
});

/** Tests that may judge: those that start a program or run all plants would take hours. */
const judges = files.filter(
  file => /^test\/(engine|reference)\/.*\.test\.ts$/.test(file) && !/ngspice|gnu-units/.test(file),
);

/** What is asked through a text alone, by tests that import nothing of the engine, or by so many that a few must do. */
const byText = {
  'engine/checks/accept.ts': ['test/engine/acceptance.test.ts'],
  'engine/checks/context.ts': [
    'bus-voltage',
    'cable-drop',
    'capacity-by-rate',
    'circulating-current',
    'dc-current',
    'discharge-time',
    'limits-in-cases',
    'modulation-limit',
    'outside-curve',
    'power-shortfall',
    'requirement',
    'voltage-reserve',
  ].map(name => `test/engine/checks/${name}.test.ts`),
};

/**
 * The test that bears the file's name and the references that import it: other tests use it as a tool, and would only take
 * time. Where none bears its name, all tests that import it; a file that only others use is judged by the tests of its
 * users, and where they too have none, of those that use them.
 */
function testsOf(file) {
  const own = judges.filter(test => isOwn(test, file));
  if (own.length > 0) return judges.filter(test => own.includes(test) || isReference(test, file));
  const asked = new Set([file]);
  for (let users = [file]; users.length > 0; ) {
    const tests = judges.filter(test => users.some(user => importsOf(test).includes(user) || isOwn(test, user)));
    if (tests.length > 0) return tests;
    const next = files.filter(other => /^engine\//.test(other) && importsOf(other).some(name => users.includes(name)));
    users = next.filter(other => !asked.has(other));
    for (const user of users) asked.add(user);
  }
  return [];
}

const isOwn = (test, file) =>
  test === file.replace(/^(.*)\.ts$/, 'test/$1.test.ts') || (byText[file]?.includes(test) ?? false);

const isReference = (test, file) => test.startsWith('test/reference/') && importsOf(test).includes(file);

/** Changes when the file, its tests or anything that one of them imports does: then what was seen before holds no more. */
function fingerprintOf(starts) {
  const seen = new Set();
  const visit = file => {
    if (seen.has(file) || !files.includes(file)) return;
    seen.add(file);
    if (/\.(ts|mjs)$/.test(file)) for (const target of importsOf(file)) visit(target);
  };
  for (const file of starts) visit(file);
  const hash = createHash('sha256');
  for (const file of [...seen].sort()) hash.update(file).update(textOf(file));
  return hash.digest('hex');
}

function install() {
  const done = path.join(folder, 'node_modules/.package-lock.json');
  const lock = path.join(folder, 'package-lock.json');
  if (existsSync(done) && statSync(done).mtimeMs >= statSync(lock).mtimeMs) return;
  const options = ['ci', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'];
  const { status } = spawnSync('npm', options, { cwd: folder, stdio: 'inherit', shell: process.platform === 'win32' });
  if (status !== 0) throw new Error(`"npm ${options.join(' ')}" did not succeed in ${folder}.`);
}

function mutate(file) {
  const tests = testsOf(file);
  if (tests.length === 0) return { file, tests: 0 };
  const name = file
    .replace(/^engine\//, '')
    .replace(/\.ts$/, '')
    .replaceAll('/', '-');
  const [report, mark] = ['json', 'sha256'].map(ending => path.join(out, `${name}.${ending}`));
  const fingerprint = fingerprintOf([file, ...tests]);
  const known = existsSync(mark) && existsSync(report) && readFileSync(mark, 'utf8') === fingerprint;
  if (known) return { file, tests: tests.length, ...countsOf(JSON.parse(readFileSync(report, 'utf8'))) };
  const command = path.join(folder, 'node_modules/@stryker-mutator/core/bin/stryker.js');
  const { status, stdout, stderr } = spawnSync(process.execPath, [command, 'run', 'test/mutation/stryker.config.mjs'], {
    cwd: root,
    encoding: 'utf8',
    maxBuffer: 1e9,
    env: { ...process.env, MUTATED: file, MUTATION_TESTS: tests.join(' ') },
  });
  mkdirSync(out, { recursive: true });
  writeFileSync(path.join(out, `${name}.txt`), stdout + stderr);
  if (status !== 0) throw new Error(`The mutation of ${file} failed: ${(stdout + stderr).slice(-2000)}`);
  writeFileSync(mark, fingerprint);
  return { file, tests: tests.length, ...countsOf(JSON.parse(readFileSync(report, 'utf8'))) };
}

function countsOf({ files: reported }) {
  const states = Object.values(reported).flatMap(({ mutants }) => mutants.map(({ status }) => status));
  const count = (...names) => states.filter(state => names.includes(state)).length;
  return { noticed: count('Killed', 'Timeout'), missed: count('Survived', 'NoCoverage') };
}

install();
if (subjects.length === 0) throw new Error(`Nothing of engine/physics or engine/checks is called ${wanted.join(' ')}.`);

/** Files that nobody has counted as they now stand, before those that somebody has. */
function inTurn() {
  const scores = scoresOf(readFileSync(path.join(folder, 'README.md'), 'utf8'));
  const isCounted = file => Number(isUpToDate(scores.get(file), textOf(file)));
  return subjects.toSorted((a, b) => isCounted(a) - isCounted(b));
}

const end = nightly === undefined ? Number.POSITIVE_INFINITY : Date.now() + nightly * 3_600_000;
const short = [];
for (const file of nightly === undefined ? subjects : inTurn()) {
  if (Date.now() > end) break;
  const { tests, noticed = 0, missed = 0 } = mutate(file);
  const share = percent({ noticed, missed });
  if (share !== undefined && share < leastShare && remarks[file] === undefined) short.push(file);
  const score = share === undefined ? '–' : `${share.toFixed(1)} %`;
  process.stdout.write(
    `${file.padEnd(44)} ${score.padStart(8)}  ${noticed} noticed, ${missed} missed, by ${tests} test files\n`,
  );
}
if (nightly !== undefined && short.length > 0) {
  process.stdout.write(`Below ${leastShare} %, and no remark says why: ${short.join(', ')}.\n`);
  process.exitCode = 1;
}
process.stdout.write(`What was missed stands in ${path.relative(process.cwd(), out)}/*.txt.\n`);
