// Brings the peers of the benchmark in, when they are missing or of another version than the lock says.
import { spawnSync } from 'node:child_process';
import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import { benchFolder } from './subjects.mjs';

export function installPeers(say) {
  // npm writes this list last, so an interrupted installation is repeated.
  const done = path.join(benchFolder, 'node_modules/.package-lock.json');
  const lock = path.join(benchFolder, 'package-lock.json');
  if (existsSync(done) && statSync(done).mtimeMs >= statSync(lock).mtimeMs) return;
  say('installing what the benchmark compares with (about 170 MB)');
  const options = ['ci', '--ignore-scripts', '--no-audit', '--no-fund', '--loglevel=error'];
  const result = spawnSync('npm', options, { cwd: benchFolder, stdio: 'inherit', shell: process.platform === 'win32' });
  if (result.status !== 0) throw new Error(`"npm ${options.join(' ')}" did not succeed in ${benchFolder}.`);
}
