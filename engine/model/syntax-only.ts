// What the text of a file alone tells: mistakes of syntax and an outline, without any name looked up.
import type { Declaration, SourceTree } from '../../grammar/ast.ts';
import type { OutlineEntry, WorkspacePath } from '../analysis.ts';
import { outlineOf } from './outline.ts';
import { type Report, reportProblems } from './report.ts';
import type { Placed } from './scope.ts';

/** Reports every mistake of syntax in a file; gives its outline. */
export function readSyntax(path: WorkspacePath, tree: SourceTree, report: Report): readonly OutlineEntry[] {
  for (const placed of tree.chunks) reportProblems(path, placed, report);
  const declarations = tree.chunks.flatMap(({ start, chunk: { declaration } }): Placed<Declaration>[] => {
    return declaration === undefined ? [] : [{ node: declaration, path, start, doubts: [], flawed: false }];
  });
  return outlineOf({ declarations });
}
