// Packs dist/ and what the manifest names into wattwright-<version>.vsix; `files` in package.json decides the content.
import { spawnSync } from 'node:child_process';
import { readFileSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

const root = path.resolve(path.dirname(fileURLToPath(import.meta.url)), '../..');
const { version } = JSON.parse(readFileSync(path.join(root, 'package.json'), 'utf8'));
const file = path.join(root, `wattwright-${version}.vsix`);

const vsce = createRequire(import.meta.url).resolve('@vscode/vsce/vsce');
const options = [
  'package',
  '--no-dependencies',
  '--allow-missing-repository',
  '--no-rewrite-relative-links',
  '--out',
  file,
];
const result = spawnSync(process.execPath, [vsce, ...options], { cwd: root, stdio: 'inherit' });
if (result.status !== 0) process.exit(1);
console.log(`${path.basename(file)}: ${Math.round(statSync(file).size / 1000)} kB`);
