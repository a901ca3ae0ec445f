// Installs what the editor tests need and the root package does not: workbench, Node for it, browser driver, browser.
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { pathToFileURL } from 'node:url';
import { findBrowser, hostFolder, nodeFolder, workbenchFolder, workbenchRunsHere } from './places.mjs';

const npmOptions = ['--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'];

/** Brings everything up to the pinned versions; does nothing, quickly, when it is all there. */
export function install(say = console.log) {
  if (!workbenchRunsHere) {
    say('The workbench runs on Linux (x64, arm64) only: here only the driver and the test runner are installed.');
  }
  if (!packagesAreThere()) {
    say('Installing the workbench and the browser driver (about 400 MB) …');
    run('npm', ['ci', ...npmOptions], hostFolder);
  }
  if (workbenchRunsHere && !workbenchIsComplete()) {
    say("Installing the workbench's own packages (about 400 MB) …");
    // "npm ci" refuses the shrinkwrap shipped with the workbench; "npm install" follows it all the same.
    run('npm', ['install', '--omit=dev', ...npmOptions], workbenchFolder);
  }
  if (!findBrowser()) installBrowser(say);
}

function packagesAreThere() {
  const { dependencies, optionalDependencies } = readJson(path.join(hostFolder, 'package.json'));
  const wanted = { ...dependencies };
  const node = path.basename(nodeFolder);
  if (workbenchRunsHere) wanted[node] = optionalDependencies[node];
  return Object.entries(wanted).every(([name, version]) => {
    const manifest = path.join(hostFolder, 'node_modules', name, 'package.json');
    return existsSync(manifest) && readJson(manifest).version === version;
  });
}

/** npm writes this list last, so an interrupted installation is repeated. */
function workbenchIsComplete() {
  return existsSync(path.join(workbenchFolder, 'node_modules/.package-lock.json'));
}

function installBrowser(say) {
  const byHand = 'Install Chromium (Debian: "apt-get install chromium") or name a browser in WATTWRIGHT_CHROMIUM.';
  if (!existsSync('/usr/bin/apt-get')) throw new Error(`No Chromium found. ${byHand}`);
  if (process.getuid?.() !== 0) throw new Error(`No Chromium found, and only root may install it. ${byHand}`);
  say('Installing Chromium …');
  const apt = ['install', '--yes', '--quiet', '--no-install-recommends', 'chromium'];
  try {
    run('apt-get', apt, hostFolder);
  } catch {
    // The package lists may be missing or stale.
    run('apt-get', ['update', '--quiet'], hostFolder);
    run('apt-get', apt, hostFolder);
  }
  if (!findBrowser()) throw new Error(`Chromium is still not found. ${byHand}`);
}

function run(command, args, folder) {
  // The workbench's Node comes first, so that npm sees the version that its packages ask for.
  const search = [path.join(nodeFolder, 'bin'), process.env.PATH].join(path.delimiter);
  const env = { ...process.env, PATH: search, DEBIAN_FRONTEND: 'noninteractive' };
  try {
    execFileSync(command, args, {
      cwd: folder,
      env,
      stdio: ['ignore', 'pipe', 'pipe'],
      shell: process.platform === 'win32',
    });
  } catch (error) {
    throw new Error(`"${command} ${args.join(' ')}" failed in ${folder}:\n${error.stderr ?? error.message}`);
  }
}

function readJson(file) {
  return JSON.parse(readFileSync(file, 'utf8'));
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  install();
  console.log('The editor tests have all they need.');
}
