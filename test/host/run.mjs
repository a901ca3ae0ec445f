// Runs the editor tests: inside the extension host, then through the browser. Called by "npm run test:host".
// Options: --only in-host|journeys, --grep TEXT, --extension FOLDER or --vsix FILE, --starter FOLDER.
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { parseArgs, stripVTControlCharacters } from 'node:util';
import { runTests } from '@vscode/test-electron';
import { unpackExtension } from './host.mjs';
import { install } from './install.mjs';
import { hostFolder, readExtension, repositoryFolder, starterFolder, workbenchRunsHere } from './places.mjs';
import { copyWorkspace } from './workbench.mjs';

const { values: options } = parseArgs({
  options: {
    only: { type: 'string' },
    grep: { type: 'string' },
    extension: { type: 'string', default: repositoryFolder },
    vsix: { type: 'string' },
    starter: { type: 'string', default: starterFolder },
  },
});

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => process.exit(1));

process.exit(await main());

async function main() {
  const stages = { 'in-host': runInHost, journeys: runJourneys };
  if (options.only && !stages[options.only]) throw new Error(`--only wants one of: ${Object.keys(stages).join(', ')}`);
  const total = { passed: 0, failed: [] };
  try {
    install();
    if (!options.vsix) readExtension(options.extension);
  } catch (error) {
    total.failed.push({ title: 'preparation', reason: error.message });
  }
  if (total.failed.length === 0) {
    for (const [name, run] of Object.entries(stages)) {
      if (options.only && options.only !== name) continue;
      const { passed, failed } = await guarded(name, run);
      total.passed += passed;
      total.failed.push(...failed);
    }
  }
  for (const { title, reason } of total.failed) {
    console.log(`\nFAILED ${title}\n  ${stripVTControlCharacters(reason).trim().replaceAll('\n', '\n  ')}`);
  }
  console.log(`\n${total.passed} passed, ${total.failed.length} failed`);
  return total.failed.length ? 1 : 0;
}

/** A stage that breaks off, or in which nothing ran, has failed: it never counts as quiet success. */
async function guarded(name, run) {
  console.log(`\n== ${name}`);
  try {
    const outcome = await run();
    if (outcome.passed + outcome.failed.length > 0) return outcome;
    return { passed: 0, failed: [{ title: name, reason: 'no test ran' }] };
  } catch (error) {
    return { passed: 0, failed: [{ title: name, reason: error.stack ?? String(error) }] };
  }
}

/** The tests inside the extension host, in the workbench or in the desktop editor that WATTWRIGHT_EDITOR names. */
async function runInHost() {
  const editor =
    process.env.WATTWRIGHT_EDITOR || (workbenchRunsHere ? path.join(hostFolder, 'editor-wrapper.mjs') : '');
  // Without a path the runner below would download an editor.
  if (!editor) throw new Error("Name a desktop editor's executable in WATTWRIGHT_EDITOR.");
  const scratch = mkdtempSync(path.join(tmpdir(), 'in-host-'));
  const results = path.join(scratch, 'results.json');
  const profile = ['user-data', 'extensions'].map(name => `--${name}-dir=${path.join(scratch, name)}`);
  try {
    await runTests({
      vscodeExecutablePath: editor,
      extensionDevelopmentPath: options.vsix ? unpackExtension(options.vsix, scratch) : path.resolve(options.extension),
      extensionTestsPath: path.join(hostFolder, 'in-host/index.cjs'),
      launchArgs: [copyWorkspace(options.starter), '--disable-extensions', ...profile],
      extensionTestsEnv: { WATTWRIGHT_HOST_RESULTS: results, WATTWRIGHT_HOST_GREP: options.grep ?? '' },
    }).catch(error => console.log(error.message));
    if (!existsSync(results)) throw new Error('The tests inside the extension host did not reach their end.');
    const outcome = JSON.parse(readFileSync(results, 'utf8'));
    return { passed: outcome.passed.length, failed: outcome.failed.concat(outcome.pending.map(asFailure)) };
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

/** The tests through the browser. */
async function runJourneys() {
  if (!workbenchRunsHere) throw new Error('The journeys need the workbench, which runs on Linux (x64, arm64) only.');
  process.env.WATTWRIGHT_HOST_EXTENSION = path.resolve(options.extension);
  process.env.WATTWRIGHT_HOST_STARTER = path.resolve(options.starter);
  process.env.WATTWRIGHT_HOST_VSIX = options.vsix ? path.resolve(options.vsix) : '';
  const { default: Mocha } = await import('mocha');
  const mocha = new Mocha({ ui: 'bdd', reporter: 'spec', forbidOnly: true });
  if (options.grep) mocha.grep(options.grep);
  const folder = path.join(hostFolder, 'journeys');
  for (const name of readdirSync(folder).sort()) {
    if (name.endsWith('.test.mjs')) mocha.addFile(path.join(folder, name));
  }
  await mocha.loadFilesAsync();
  const outcome = { passed: 0, failed: [] };
  await new Promise(resolve => {
    const runner = mocha.run(resolve);
    runner.on('pass', () => outcome.passed++);
    runner.on('pending', test => outcome.failed.push(asFailure(test.fullTitle())));
    runner.on('fail', (test, error) => outcome.failed.push({ title: test.fullTitle(), reason: error.message }));
  });
  return outcome;
}

function asFailure(title) {
  return { title, reason: 'it was skipped; nothing here may be' };
}
