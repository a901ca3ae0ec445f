// The file system as the checker sees it: the only file that imports node:fs. It never leaves its folder, and it
// writes only where the command line was told to.
import fs, { existsSync } from 'node:fs';
import path from 'node:path';
import { promisify } from 'node:util';
import type { WorkspacePath } from '../engine/analysis.ts';
import { decodeFile, type FileText, type Host, isPassedOver, largestFile, tooLarge } from './host.ts';

type Later<T> = T | Promise<T>;

/** The calls of `node:fs` that reading takes. */
interface Reading {
  readonly readdir: (folder: string, options: { readonly withFileTypes: true }) => Later<fs.Dirent[]>;
  readonly readFile: (file: string) => Later<Buffer>;
  readonly realpath: (file: string) => Later<string>;
  readonly stat: (file: string) => Later<fs.Stats>;
}

/** For a command, which has nothing else to do: the threads that would read beside it take longer to start than to read. */
const atOnce: Reading = {
  readdir: fs.readdirSync,
  readFile: file => fs.readFileSync(file),
  realpath: file => fs.realpathSync.native(file),
  stat: file => fs.statSync(file),
};

/**
 * For a server, which goes on answering. `node:fs/promises` does the same, and takes more time to load than a plant to
 * read.
 */
export const inBackground: Reading = {
  readdir: promisify(fs.readdir),
  readFile: promisify(fs.readFile),
  realpath: promisify(fs.realpath.native),
  stat: promisify(fs.stat),
};

const mkdir = promisify(fs.mkdir);
const writeFile = promisify(fs.writeFile);

/** Reads below one absolute folder; links that lead out of it are not followed. */
export function createNodeHost(root: string, reading: Reading = atOnce): Host {
  let realRoot: Promise<string> | undefined;
  return {
    read: async file => {
      realRoot ??= realFolder(root, reading);
      return readInside(await realRoot, path.join(root, file), reading);
    },
    listPlants: async (folder, limit = Number.POSITIVE_INFINITY) => {
      const found: WorkspacePath[] = [];
      await collectPlants(root, folder, found, limit, reading);
      return found;
    },
  };
}

async function realFolder(folder: string, { realpath }: Reading): Promise<string> {
  try {
    return await realpath(folder);
  } catch {
    return path.resolve(folder);
  }
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

export function whatIsAt(file: string): 'file' | 'folder' | 'missing' {
  try {
    return fs.statSync(file).isDirectory() ? 'folder' : 'file';
  } catch {
    return 'missing';
  }
}

/** Reads one file that the command line names. */
export async function readText(file: string): Promise<FileText> {
  return readReal(file, atOnce).catch(explainFailure);
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

async function readInside(realRoot: string, file: string, reading: Reading): Promise<FileText> {
  try {
    const real = await reading.realpath(file);
    if (real !== realRoot && !real.startsWith(withSeparator(realRoot))) return { state: 'outside' };
    return await readReal(real, reading);
  } catch (error) {
    return explainFailure(error);
  }
}

async function readReal(file: string, { stat, readFile }: Reading): Promise<FileText> {
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

async function collectPlants(
  root: string,
  folder: string,
  found: WorkspacePath[],
  limit: number,
  reading: Reading,
): Promise<void> {
  const entries = await entriesOf(path.join(root, folder), reading);
  entries.sort((a, b) => (a.name < b.name ? -1 : 1));
  for (const entry of entries) {
    if (found.length >= limit) return;
    const at = folder === '' ? entry.name : `${folder}/${entry.name}`;
    // Linked folders are not followed: they may lead out, or round in a circle.
    if (isPassedOver(entry.name)) continue;
    if (entry.isDirectory()) await collectPlants(root, at, found, limit, reading);
    else if (entry.name.endsWith('.plant')) found.push(at);
  }
}

async function entriesOf(folder: string, { readdir }: Reading): Promise<fs.Dirent[]> {
  try {
    return await readdir(folder, { withFileTypes: true });
  } catch {
    return [];
  }
}

function withSeparator(folder: string): string {
  return folder.endsWith(path.sep) ? folder : folder + path.sep;
}
