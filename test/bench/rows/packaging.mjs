// The row on the size of the extension, packed as it would be shipped.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { root } from '../subjects.mjs';

export const packaging = {
  name: 'packaging',
  about: 'what is in dist/ now',
  run: async ({ say }) => {
    say('packing the extension');
    const folder = mkdtempSync(path.join(tmpdir(), 'bench-'));
    try {
      return [rowOf(pack(path.join(folder, 'extension.vsix')))];
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  },
};

function pack(file) {
  const packer = createRequire(path.join(root, 'package.json')).resolve('@vscode/vsce/vsce');
  const options = [
    'package',
    '--no-dependencies',
    '--allow-missing-repository',
    '--no-rewrite-relative-links',
    '--out',
    file,
  ];
  const result = spawnSync(process.execPath, [packer, ...options], { cwd: root, encoding: 'utf8' });
  if (result.status !== 0) throw new Error(`Packing failed:\n${result.stderr}`);
  return statSync(file).size;
}

function rowOf(bytes) {
  return {
    name: 'package',
    what: 'extension package',
    unit: 'kB',
    figures: { ours: bytes / 1000 },
    match: [{ most: 1500 }],
    beyond: [{ most: 800 }],
  };
}
