// Paths of `use` declarations, resolved by text alone: no file system here.
import type { SourceTree } from '../../grammar/ast.ts';
import type { WorkspacePath } from '../analysis.ts';
import type { Place } from '../finding.ts';

export interface UsedPath {
  /** Undefined: leads out of the workspace, or names a package. */
  readonly target: WorkspacePath | undefined;
  readonly written: string;
  readonly place: Place;
}

/** Every file that the tree wants to use, in the order of the text. */
export function usedPaths(path: WorkspacePath, tree: SourceTree): readonly UsedPath[] {
  const used: UsedPath[] = [];
  for (const { start, chunk } of tree.chunks) {
    const declaration = chunk.declaration;
    if (declaration?.type !== 'use' || declaration.path === undefined) continue;
    const { value, start: from, end } = declaration.path;
    used.push({
      target: isPackagePath(value) ? undefined : resolveUse(path, value),
      written: value,
      place: { path, start: start + from, end: start + end },
    });
  }
  return used;
}

/** `use "@team/parts/lfp.plant"` names a package, `use "parts/lfp.plant"` a file. */
export function isPackagePath(written: string): boolean {
  return written.startsWith('@');
}

/** The workspace path that `written` means in the file `from`; undefined where it leaves the workspace. */
export function resolveUse(from: WorkspacePath, written: string): WorkspacePath | undefined {
  const text = written.replaceAll('\\', '/');
  if (text.startsWith('/') || /^[A-Za-z][A-Za-z0-9+.-]*:/.test(text)) return undefined;
  const segments = from.split('/').slice(0, -1);
  for (const segment of text.split('/')) {
    if (segment === '' || segment === '.') continue;
    if (segment !== '..') {
      segments.push(segment);
      continue;
    }
    if (segments.length === 0) return undefined;
    segments.pop();
  }
  return segments.join('/');
}
