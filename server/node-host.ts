// The file system as the checker sees it: the only file that imports node:fs. It never leaves its folder, and it
// writes only where the command line was told to.
import fs, { existsSync } from 'node:fs';
import path from 'node:path';
import { promisify } from 'node:util';
import type { WorkspacePath } from '../engine/analysis.ts';
import { decodeFile, type FileText, type Host, isPassedOver, largestFile, tooLarge } from './host.ts';

// `node:fs/promises` does the same, and takes more time to load than a plant to read.
const mkdir = promisify(fs.mkdir);
const readdir = promisify(fs.readdir);
const readFile = promisify(fs.readFile);
const realpath = promisify(fs.realpath.native);
const stat = promisify(fs.stat);
const writeFile = promisify(fs.writeFile);

/** Reads below one absolute folder; links that lead out of it are not followed. */
export function createNodeHost(root: string): Host {
  const realRoot = realpath(root).catch(() => path.resolve(root));
  return {
    read: async file => readInside(await realRoot, path.join(root, file)),
    listPlants: async (folder, limit = Number.POSITIVE_INFINITY) => {
      const found: WorkspacePath[] = [];
      await collectPlants(root, folder, found, limit);
      return found;
    },
  };
}

/** The folder that `use` may not leave: the nearest one above that holds a package.json or .git, else `fallback`. */
export function findWorkspaceRoot(folder: string, fallback: string = folder): string {
  for (let at = path.resolve(folder); ; at = path.dirname(at)) {
    if (existsSync(path.join(at, 'package.json')) || existsSync(path.join(at, '.git'))) return at;
    if (path.dirname(at) === at) return path.resolve(fallback);
  }
}

/** The nearest folder above that holds a .git; undefined where there is none. */
export function findRepositoryRoot(folder: string): string | undefined {
  for (let at = path.resolve(folder); ; at = path.dirname(at)) {
    if (existsSync(path.join(at, '.git'))) return at;
    if (path.dirname(at) === at) return undefined;
  }
}

export async function whatIsAt(file: string): Promise<'file' | 'folder' | 'missing'> {
  const found = await stat(file).catch(() => undefined);
  if (found === undefined) return 'missing';
  return found.isDirectory() ? 'folder' : 'file';
}

/** Reads one file that the command line names. */
export async function readText(file: string): Promise<FileText> {
  return readReal(file).catch(explainFailure);
}

/** Writes a file and the folders above it; what it returns says why that was not possible. */
export async function writeText(file: string, text: string): Promise<string | undefined> {
  try {
    await mkdir(path.dirname(file), { recursive: true });
    await writeFile(file, text);
    return undefined;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

async function readInside(realRoot: string, file: string): Promise<FileText> {
  try {
    const real = await realpath(file);
    if (real !== realRoot && !real.startsWith(withSeparator(realRoot))) return { state: 'outside' };
    return await readReal(real);
  } catch (error) {
    return explainFailure(error);
  }
}

async function readReal(file: string): Promise<FileText> {
  const before = await stat(file);
  // Opening a pipe would wait for its other end.
  if (!before.isFile())
    return { state: 'unreadable', reason: before.isDirectory() ? 'it is a folder' : 'it is no file' };
  if (before.size > largestFile) return tooLarge(before.size);
  return decodeFile(await readFile(file));
}

function explainFailure(error: unknown): FileText {
  const code = error instanceof Error && 'code' in error ? error.code : undefined;
  if (code === 'ENOENT' || code === 'ENOTDIR') return { state: 'missing' };
  if (code === 'ELOOP') return { state: 'unreadable', reason: 'its links go round in a circle' };
  if (code === 'EACCES' || code === 'EPERM') return { state: 'unreadable', reason: 'reading it is not permitted' };
  return { state: 'unreadable', reason: error instanceof Error ? error.message : String(error) };
}

async function collectPlants(root: string, folder: string, found: WorkspacePath[], limit: number): Promise<void> {
  const entries = await readdir(path.join(root, folder), { withFileTypes: true }).catch(() => []);
  entries.sort((a, b) => (a.name < b.name ? -1 : 1));
  for (const entry of entries) {
    if (found.length >= limit) return;
    const at = folder === '' ? entry.name : `${folder}/${entry.name}`;
    // Linked folders are not followed: they may lead out, or round in a circle.
    if (isPassedOver(entry.name)) continue;
    if (entry.isDirectory()) await collectPlants(root, at, found, limit);
    else if (entry.name.endsWith('.plant')) found.push(at);
  }
}

function withSeparator(folder: string): string {
  return folder.endsWith(path.sep) ? folder : folder + path.sep;
}
