#!/usr/bin/env node
// Stands in for a desktop editor's executable: runs the tests that it is told of in the workbench's extension host.
// It understands the arguments of a desktop editor that tests need: a folder, --extensionDevelopmentPath= and
// --extensionTestsPath=. The exit code tells the outcome.
import { readFileSync } from 'node:fs';
import { format } from 'node:util';
import { launchBrowser } from './browser.mjs';
import { startWorkbench } from './host.mjs';

const limit = Number(process.env.WATTWRIGHT_HOST_TIMEOUT ?? 300_000);

const chatter = [
  /^(Creating a socket|Resolv|\[|%c|Updating|Ignoring)/,
  // Optional native parts of the workbench that are not built here, and an account that nobody has.
  /Could not locate the bindings file|native-watchdog|authentication provider/,
];

for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.on(signal, () => process.exit(1));
const parent = process.ppid;
setInterval(() => process.ppid === parent || process.exit(1), 1000).unref();

process.exit(await runTests());

async function runTests() {
  const folder = process.argv.slice(2).find(argument => !argument.startsWith('-'));
  const tests = valuesOf('extensionTestsPath');
  if (!folder || tests.length !== 1) throw new Error('A folder and one --extensionTestsPath are wanted.');
  const workbench = await startWorkbench();
  const browser = await launchBrowser();
  try {
    const payload = ['extensionDevelopmentPath', 'extensionTestsPath'].flatMap(name =>
      valuesOf(name).map(file => [name, workbench.remote(file)]),
    );
    const ended = outcome(browser.page);
    await browser.page.goto(workbench.address({ folder, payload }));
    const code = await Promise.race([ended, tooLate()]);
    if (code === undefined) console.error(`No end after ${limit / 1000} s.\n${tail(workbench.logFile)}`);
    return code ?? 124;
  } finally {
    await browser.close();
    await workbench.stop();
  }
}

/** Resolves with the exit code that the extension host reports; prints what the tests print meanwhile. */
function outcome(page) {
  return new Promise((resolve, reject) => {
    page.exposeFunction('codeAutomationExit', resolve).catch(reject);
    page.exposeFunction('codeAutomationLog', (_type, args) => printUnlessChatter(format(...args))).catch(reject);
  });
}

/** The workbench logs through the same door as the tests; WATTWRIGHT_HOST_VERBOSE=1 lets its own lines through. */
function printUnlessChatter(line) {
  if (process.env.WATTWRIGHT_HOST_VERBOSE || !chatter.some(pattern => pattern.test(line))) console.log(line);
}

function valuesOf(name) {
  const start = `--${name}=`;
  return process.argv.filter(argument => argument.startsWith(start)).map(argument => argument.slice(start.length));
}

function tooLate() {
  return new Promise(resolve => setTimeout(resolve, limit, undefined).unref());
}

function tail(file) {
  return readFileSync(file, 'utf8').slice(-4000);
}
