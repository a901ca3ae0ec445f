// Finds the files that the words on the command line mean, and the workspace that each of them belongs to.
import path from 'node:path';
import type { WorkspacePath } from '../../engine/analysis.ts';
import { createNodeHost, findRepositoryRoot, findWorkspaceRoot, whatIsAt } from '../node-host.ts';
import type { Terminal } from './terminal.ts';

/** Files of one workspace: `use` in them reaches everywhere below the root and nowhere else. */
export interface TargetGroup {
  readonly root: string;
  readonly files: readonly WorkspacePath[];
}

export type Targets =
  | { readonly ok: true; readonly groups: readonly TargetGroup[] }
  | { readonly ok: false; readonly message: string };

/** No words mean the current folder; a folder means all `.plant` files below it. */
export async function findTargets(words: readonly string[], terminal: Terminal): Promise<Targets> {
  const groups = new Map<string, Set<WorkspacePath>>();
  for (const word of words.length === 0 ? ['.'] : words) {
    const at = path.resolve(terminal.folder, word);
    const what = whatIsAt(at);
    if (what === 'missing') return { ok: false, message: `There is no file or folder "${word}".` };
    const folder = what === 'folder' ? at : path.dirname(at);
    const root = findWorkspaceRoot(folder);
    const inside = workspacePath(root, at);
    const files = what === 'file' ? [inside] : await createNodeHost(root).listPlants(inside);
    if (files.length === 0) return { ok: false, message: `There is no .plant file in "${word}".` };
    const group = groups.get(root) ?? new Set();
    groups.set(root, group);
    for (const file of files) group.add(file);
  }
  return { ok: true, groups: [...groups].map(([root, files]) => ({ root, files: [...files].sort() })) };
}

/** How output names a file: as seen from the current folder, with forward slashes. */
export function displayPath(root: string, file: WorkspacePath, terminal: Terminal): string {
  return path.relative(terminal.folder, path.join(root, file)).replaceAll('\\', '/');
}

/** How other programs name a file: from the root of the repository, wherever the command was started. */
export function rootedPath(root: string, file: WorkspacePath): string {
  return path.relative(findRepositoryRoot(root) ?? root, path.join(root, file)).replaceAll('\\', '/');
}

function workspacePath(root: string, file: string): WorkspacePath {
  return path.relative(root, file).replaceAll('\\', '/');
}
