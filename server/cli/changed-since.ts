// Picks out the plants that the changes since a commit can affect: those that changed, and all that use what changed.
import path from 'node:path';
import type { WorkspacePath } from '../../engine/analysis.ts';
import { type Answer, openRepository } from '../git.ts';
import { createNodeHost } from '../node-host.ts';
import { createUseGraph } from '../use-graph.ts';
import type { TargetGroup } from './targets.ts';
import type { Terminal } from './terminal.ts';

export type Changed =
  | { readonly ok: true; readonly groups: readonly TargetGroup[]; readonly remarks: readonly string[] }
  | { readonly ok: false; readonly message: string };

export async function selectChanged(
  groups: readonly TargetGroup[],
  revision: string,
  { folder }: Terminal,
): Promise<Changed> {
  const selected: TargetGroup[] = [];
  for (const group of groups) {
    const changed = await changedIn(group.root, revision);
    if (!changed.ok) return changed;
    const affected = await affectedBy(changed.value, group);
    selected.push({ root: group.root, files: group.files.filter(file => affected.has(file)) });
  }
  if (groups.length === 0) return { ok: false, message: `There is nothing to check in "${folder}".` };
  const all = groups.reduce((sum, { files }) => sum + files.length, 0);
  const left = all - selected.reduce((sum, { files }) => sum + files.length, 0);
  const remark = `Only what the changes since ${revision} can affect was checked; ${left} of ${all} files were left alone.`;
  return { ok: true, groups: selected, remarks: [remark] };
}

/** Paths in the workspace. */
async function changedIn(root: string, revision: string): Promise<Answer<readonly WorkspacePath[]>> {
  const repository = await openRepository(root);
  if (!repository.ok) return repository;
  const commit = await repository.value.commitOf(revision);
  if (!commit.ok) return commit;
  const changed = await repository.value.changedSince(commit.value);
  if (!changed.ok) return changed;
  const inside = changed.value.flatMap(file => {
    const at = path.relative(root, path.join(repository.value.folder, file)).replaceAll('\\', '/');
    return at === '..' || at.startsWith('../') ? [] : [at];
  });
  return { ok: true, value: inside };
}

/** Installed packages are not in git: what they hold may be new wherever the list of them is. */
const packageLists = ['package.json', 'package-lock.json', 'npm-shrinkwrap.json', 'pnpm-lock.yaml', 'yarn.lock'];

async function affectedBy(
  changed: readonly WorkspacePath[],
  { root, files }: TargetGroup,
): Promise<ReadonlySet<WorkspacePath>> {
  if (changed.some(file => packageLists.includes(file))) return new Set(files);
  const uses = createUseGraph(createNodeHost(root));
  await uses.scan('', Number.POSITIVE_INFINITY);
  return new Set([...changed, ...uses.usersOf(changed)]);
}
