// Paths as `use` writes them: from the folder of the file that uses.
import type { WorkspacePath } from '../../engine/analysis.ts';

/** The other files, seen from `from`; the nearest first. */
export function relativePaths(from: WorkspacePath, files: readonly WorkspacePath[]): readonly string[] {
  return files
    .filter(file => file !== from)
    .map(file => relativePath(from, file))
    .toSorted((a, b) => a.split('/').length - b.split('/').length || (a < b ? -1 : 1));
}

/** `../parts/string.plant` */
export function relativePath(from: WorkspacePath, to: WorkspacePath): string {
  const [folder, file] = [from.split('/').slice(0, -1), to.split('/')];
  let shared = 0;
  while (shared < folder.length && folder[shared] === file[shared]) shared += 1;
  return [...folder.slice(shared).map(() => '..'), ...file.slice(shared)].join('/');
}
