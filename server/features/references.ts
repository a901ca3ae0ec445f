// References: every place, in any file of the workspace, that speaks of the thing at the cursor.
import type { WorkspacePath } from '../../engine/analysis.ts';
import type { Place } from '../../engine/finding.ts';
import { type Named, type Names, type Occurrence, occurrenceAt } from './occurrences.ts';

/** The thing at an offset; undefined where no name stands. */
export function namedAt(names: Names, path: WorkspacePath, offset: number): Occurrence | undefined {
  return occurrenceAt(names.occurrencesIn(path), offset);
}

/** Everything in all files that `names` knows: those of the asked one first, each in the order of its text. */
export function occurrencesOf(names: Names, named: Named, first: WorkspacePath): readonly Occurrence[] {
  const paths = [first, ...[...names.snapshot.files.keys()].filter(path => path !== first).sort()];
  return paths.flatMap(path => names.occurrencesIn(path).filter(one => one.named.key === named.key));
}

export function references(
  names: Names,
  path: WorkspacePath,
  offset: number,
  withDeclaration: boolean,
): readonly Place[] {
  const at = namedAt(names, path, offset);
  if (at === undefined) return [];
  return occurrencesOf(names, at.named, path)
    .filter(({ role }) => withDeclaration || role !== 'declaration')
    .map(({ place }) => place);
}
