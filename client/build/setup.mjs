// Makes a fresh checkout ready: installs the locked packages when they are missing or out of date, and with `--tests`
// also the outside programs that the tests compare with. Runs on the old Node that a machine may come with.
import { spawnSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const withTests = process.argv.includes('--tests');

/** Command → Debian package. The names happen to agree today; keep both, since they need not. */
const outsidePrograms = { ngspice: 'ngspice', units: 'units', chromium: 'chromium' };

if (!packagesAreFresh()) run('npm', ['ci'], 'Installing the locked packages …');
if (withTests) {
  installOutsidePrograms();
  const hostInstaller = path.join(root, 'test/host/install.mjs');
  if (existsSync(hostInstaller)) run('node', [hostInstaller]);
}

/** npm writes this hidden list last, so an interrupted installation is repeated. */
function packagesAreFresh() {
  const installed = path.join(root, 'node_modules/.package-lock.json');
  if (!existsSync(installed)) return false;
  return statSync(installed).mtimeMs >= statSync(path.join(root, 'package-lock.json')).mtimeMs;
}

function installOutsidePrograms() {
  const missing = Object.keys(outsidePrograms).filter(command => !isOnPath(command));
  if (missing.length === 0) return;
  const packages = missing.map(command => outsidePrograms[command]);
  const byHand = `apt-get install --no-install-recommends ${packages.join(' ')}`;
  const isRoot = typeof process.getuid === 'function' && process.getuid() === 0;
  if (!isRoot || !isOnPath('apt-get')) {
    console.error(`The tests need ${missing.join(', ')}, missing on this machine. On Debian, as root: ${byHand}`);
    return;
  }
  run('apt-get', ['update', '-q'], `Installing ${packages.join(', ')} for the tests …`);
  run('apt-get', ['install', '-y', '-q', '--no-install-recommends'].concat(packages));
}

function isOnPath(command) {
  const folders = (process.env.PATH || '').split(path.delimiter);
  return folders.some(folder => existsSync(path.join(folder, command)));
}

function run(command, options, announcement) {
  if (announcement) console.log(announcement);
  const shell = process.platform === 'win32';
  const result = spawnSync(command, options, { cwd: root, stdio: 'inherit', shell });
  if (result.status === 0) return;
  console.error(`${command} ${options.join(' ')} did not succeed.`);
  process.exit(1);
}
