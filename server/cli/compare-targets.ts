// Finds out what `compare` is to compare: two files, two folders, or the same paths in two commits.
import path from 'node:path';
import type { WorkspacePath } from '../../engine/analysis.ts';
import type { Side } from '../compare/compare-sides.ts';
import { type Answer, openRepository } from '../git.ts';
import type { Host } from '../host.ts';
import { createNodeHost, findWorkspaceRoot, whatIsAt } from '../node-host.ts';
import { createSources } from '../sources.ts';
import type { Terminal } from './terminal.ts';

export interface Sides {
  readonly before: Side;
  readonly after: Side;
  /** The two are one file, whatever they are called. */
  readonly pair: boolean;
}

export async function sidesOfPaths(old: string, now: string, terminal: Terminal): Promise<Answer<Sides>> {
  const [a, b] = [path.resolve(terminal.folder, old), path.resolve(terminal.folder, now)];
  const [what, other] = [whatIsAt(a), whatIsAt(b)];
  if (what === 'missing' || other === 'missing') {
    const word = what === 'missing' ? old : now;
    return wrong(
      `There is no file or folder "${word}". Commits are compared with --since, and --to where it is no longer today.`,
    );
  }
  if (what !== other)
    return wrong(`"${what === 'file' ? now : old}" is a folder and the other is a file: compare like with like.`);
  const pair = what === 'file';
  const sides = { before: await sideAt(a, old, pair), after: await sideAt(b, now, pair) };
  if (sides.before.files.length + sides.after.files.length === 0) {
    return wrong(`There is no .plant file in "${old}" or "${now}", so there is nothing to compare.`);
  }
  return { ok: true, value: { ...sides, pair } };
}

async function sideAt(at: string, word: string, isFile: boolean): Promise<Side> {
  const root = findWorkspaceRoot(isFile ? path.dirname(at) : at);
  const host = createNodeHost(root);
  const inside = relative(root, at);
  const all = isFile ? [inside] : await host.listPlants(inside);
  // Paths count from the folder itself, so that the two can be told to be the same.
  const from = isFile ? path.dirname(at) : at;
  const show = (file: WorkspacePath) => relative(from, path.join(root, file));
  return {
    name: `"${word}"`,
    sources: createSources(host),
    files: all,
    show: file => (isFile && file === inside ? word : show(file)),
  };
}

/** Paths that exist now or existed then; without words everything below the current folder. */
export async function sidesOfCommits(
  since: string,
  to: string | undefined,
  words: readonly string[],
  terminal: Terminal,
): Promise<Answer<Sides>> {
  const root = findWorkspaceRoot(terminal.folder);
  const repository = await openRepository(root);
  if (!repository.ok) return repository;
  const disk = createNodeHost(root);
  const sideOf = async (revision: string): Promise<Answer<{ readonly name: string; readonly host: Host }>> => {
    const commit = await repository.value.commitOf(revision);
    if (!commit.ok) return commit;
    const host = await repository.value.hostAt(commit.value, root);
    return host.ok ? { ok: true, value: { name: revision, host: withPackages(host.value, disk) } } : host;
  };
  const before = await sideOf(since);
  if (!before.ok) return before;
  const after =
    to === undefined ? { ok: true as const, value: { name: 'the working files', host: disk } } : await sideOf(to);
  if (!after.ok) return after;

  const files = { before: new Set<WorkspacePath>(), after: new Set<WorkspacePath>() };
  for (const word of words.length === 0 ? ['.'] : words) {
    const inside = relative(root, path.resolve(terminal.folder, word));
    if (inside === '..' || inside.startsWith('../')) return wrong(`"${word}" is not in the workspace "${root}".`);
    const [old, now] = [await filesAt(before.value.host, inside), await filesAt(after.value.host, inside)];
    if (old.length + now.length === 0)
      return wrong(`There is no .plant file in "${word}", neither in ${since} nor in ${after.value.name}.`);
    for (const file of old) files.before.add(file);
    for (const file of now) files.after.add(file);
  }
  const show = (file: WorkspacePath) => relative(terminal.folder, path.join(root, file));
  return {
    ok: true,
    value: {
      before: { name: before.value.name, sources: createSources(before.value.host), files: [...files.before], show },
      after: { name: after.value.name, sources: createSources(after.value.host), files: [...files.after], show },
      pair: false,
    },
  };
}

async function filesAt(host: Host, inside: WorkspacePath): Promise<readonly WorkspacePath[]> {
  const below = await host.listPlants(inside);
  if (below.length > 0 || !inside.endsWith('.plant')) return below;
  return (await host.read(inside)).state === 'missing' ? [] : [inside];
}

/** Installed packages are not in git: those of today stand in for those of then. */
function withPackages(committed: Host, disk: Host): Host {
  return {
    ...disk,
    ...committed,
    read: file => (file.split('/').includes('node_modules') ? disk.read(file) : committed.read(file)),
  };
}

function relative(from: string, to: string): string {
  return path.relative(from, to).replaceAll('\\', '/');
}

function wrong<T>(message: string): Answer<T> {
  return { ok: false, message };
}
