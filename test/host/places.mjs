// Where everything that the editor tests use is found: packages, browser, product, sample workspace.
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';

export const hostFolder = path.dirname(fileURLToPath(import.meta.url));
export const repositoryFolder = path.resolve(hostFolder, '../..');
export const starterFolder = path.join(repositoryFolder, 'client/starter');
export const shotsFolder = path.join(hostFolder, 'shots');

export const codeServerFolder = path.join(hostFolder, 'node_modules/code-server');
/** The workbench inside code-server; its packages are installed separately. */
export const workbenchFolder = path.join(codeServerFolder, 'lib/vscode');
/** code-server needs this Node, whatever runs the tests. */
export const nodeFolder = path.join(hostFolder, `node_modules/node-linux-${process.arch}`);
export const nodePath = path.join(nodeFolder, 'bin/node');

/** Only Linux has the workbench; elsewhere WATTWRIGHT_EDITOR names a desktop editor. */
export const workbenchRunsHere = process.platform === 'linux' && ['x64', 'arm64'].includes(process.arch);

const browserNames = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

/** The browser's path, or undefined. WATTWRIGHT_CHROMIUM overrides the search. */
export function findBrowser() {
  const named = process.env.WATTWRIGHT_CHROMIUM;
  if (named) return named;
  const folders = (process.env.PATH ?? '').split(path.delimiter).concat('/usr/bin');
  return folders.flatMap(folder => browserNames.map(name => path.join(folder, name))).find(file => existsSync(file));
}

/** The parts of an extension's manifest that the tests need; throws when the folder holds no built extension. */
export function readExtension(folder) {
  const manifest = JSON.parse(readFileSync(path.join(folder, 'package.json'), 'utf8'));
  if (!manifest.main) throw new Error(`${folder}/package.json names no "main": there is no extension to test.`);
  if (!existsSync(path.join(folder, manifest.main))) {
    throw new Error(`${path.join(folder, manifest.main)} is missing: run "npm run build" first.`);
  }
  return { id: `${manifest.publisher}.${manifest.name}`, name: manifest.displayName ?? manifest.name };
}
