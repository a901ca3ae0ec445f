// Document links: the paths behind `use` lead to the files.
import type { WorkspacePath } from '../../engine/analysis.ts';
import type { Place } from '../../engine/finding.ts';
import { usedPaths } from '../../engine/model/paths.ts';
import type { TreeContext } from './context.ts';

export interface DocumentLink {
  /** The path without its quotes. */
  readonly place: Place;
  readonly target: WorkspacePath;
}

/** A file that is not there has no link: its finding says so. */
export function documentLinks({ path, tree, closure }: TreeContext): readonly DocumentLink[] {
  return usedPaths(path, tree).flatMap(({ target, place }) => {
    if (target === undefined || closure.snapshot.files.get(target)?.state !== 'text') return [];
    return [{ place: { path, start: place.start + 1, end: place.end - 1 }, target }];
  });
}
