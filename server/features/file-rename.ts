// Renaming files: what the paths behind `use` have to say once files have other names or places.
import type { Snapshot, WorkspacePath } from '../../engine/analysis.ts';
import type { FileEdit } from '../../engine/finding.ts';
import { resolveUse, usedPaths } from '../../engine/model/paths.ts';
import { relativePath } from './relative-paths.ts';

/** Where a file will lie; the same path for one that stays. */
export type Moves = (path: WorkspacePath) => WorkspacePath;

/** `from` and `to` are files or folders. */
export function movesOf(renamed: readonly { readonly from: WorkspacePath; readonly to: WorkspacePath }[]): Moves {
  return path => {
    for (const { from, to } of renamed) {
      if (path === from) return to;
      if (path.startsWith(`${from}/`)) return to + path.slice(from.length);
    }
    return path;
  };
}

/** Edits of the files as they lie now; only paths that would lead elsewhere are written anew. */
export function usesAfterRenaming({ files }: Snapshot, moves: Moves): readonly FileEdit[] {
  return [...files].flatMap(([path, state]) => {
    if (state.state !== 'text') return [];
    const from = moves(path);
    return usedPaths(path, state.tree).flatMap(({ target, written, place }): FileEdit[] => {
      if (target === undefined) return [];
      const to = moves(target);
      if (resolveUse(from, written) === to) return [];
      return [{ place: { path, start: place.start + 1, end: place.end - 1 }, text: relativePath(from, to) }];
    });
  });
}
