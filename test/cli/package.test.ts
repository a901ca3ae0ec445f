// The package as it is published: what it holds, what it needs, and that the command runs from it in an empty folder.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, realpathSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';

vi.setConfig({ testTimeout: 120_000, hookTimeout: 120_000 });

const root = path.resolve(import.meta.dirname, '../..');
const folder = realpathSync(mkdtempSync(path.join(tmpdir(), 'package-')));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Packed {
  readonly filename: string;
  readonly files: readonly { readonly path: string; readonly size: number }[];
}

let packed: Packed;

function run(command: string, words: readonly string[], cwd: string) {
  const shell = process.platform === 'win32';
  const { status, stdout, stderr } = spawnSync(command, words, { cwd, encoding: 'utf8', shell });
  return { status, stdout, stderr };
}

beforeAll(() => {
  // The build is there already: no script has to run again.
  const made = run('npm', ['pack', '--json', '--ignore-scripts', '--pack-destination', folder], root);
  expect(made.status, made.stderr).toBe(0);
  packed = (JSON.parse(made.stdout) as readonly Packed[])[0]!;
  const unpacking = run('tar', ['-xzf', path.join(folder, packed.filename), '-C', folder], folder);
  expect(unpacking.status, unpacking.stderr).toBe(0);
});

test('holds the bundles, licence, changelog, icon and starter, and no source, map or test', () => {
  const paths = packed.files.map(file => file.path);
  for (const wanted of [
    'dist/wattwright.cjs',
    'dist/cli.cjs',
    'dist/server.cjs',
    'dist/extension.cjs',
    'dist/web/extension.js',
    'dist/web/server.js',
    'client/icon/icon.png',
    'client/starter/valley-station.plant',
    'LICENSE',
    'CHANGELOG.md',
    'README.md',
  ]) {
    expect(paths).toContain(wanted);
  }
  expect(paths.filter(file => /\.(ts|map|tsbuildinfo)$|(^|\/)(test|node_modules)\//.test(file))).toEqual([]);
  expect(statSync(path.join(folder, packed.filename)).size).toBeLessThan(1_500_000);
});

test('needs no other package at run time, and names what people search it by', () => {
  const manifest = JSON.parse(readFileSync(path.join(folder, 'package/package.json'), 'utf8')) as Record<
    string,
    unknown
  >;
  expect(manifest['dependencies']).toBeUndefined();
  for (const field of ['description', 'license', 'icon', 'categories', 'keywords', 'engines']) {
    expect(manifest[field], field).toBeDefined();
  }
  // A browser's extension host reads it as CommonJS, whatever its name ends in, unless the manifest says otherwise.
  expect(manifest['type']).toBeUndefined();
});

test('the command runs from the package in a folder with nothing else', () => {
  const command = path.join(folder, 'package/dist/wattwright.cjs');
  writeFileSync(path.join(folder, 'mistaken.plant'), 'let peak = 0,4 MW\n');
  const version = run(process.execPath, [command, '--version'], folder);
  expect(version).toMatchObject({ status: 0, stderr: '' });
  expect(version.stdout).toMatch(/\d+\.\d+\.\d+/);
  const check = run(process.execPath, [command, 'check', 'mistaken.plant'], folder);
  expect(check.status).toBe(1);
  expect(check.stdout).toContain('decimal_comma');
});
