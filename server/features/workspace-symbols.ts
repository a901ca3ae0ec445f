// Workspace symbols: everything with a name in any file of the folder, found by a few of its letters.
import type { Names, Occurrence, Sort } from './occurrences.ts';

export interface WorkspaceSymbol {
  readonly occurrence: Occurrence;
  readonly sort: Sort;
  readonly name: string;
  /** The catalogue of a row. The file is not named: editors show it beside every symbol anyway. */
  readonly container: string | undefined;
}

/** More than anybody reads; the editor asks again with every further letter. */
const most = 500;

const found: ReadonlySet<Sort> = new Set([
  'plant',
  'component',
  'duty',
  'practice',
  'let',
  'part',
  'catalogue',
  'row',
  'case',
]);

export function workspaceSymbols(names: Names, query: string): readonly WorkspaceSymbol[] {
  const letters = query.toLowerCase();
  const symbols: WorkspaceSymbol[] = [];
  for (const path of [...names.snapshot.files.keys()].sort()) {
    for (const occurrence of names.occurrencesIn(path)) {
      const { named, role } = occurrence;
      if (role !== 'declaration' || !found.has(named.sort) || !holdsInOrder(named.name.toLowerCase(), letters))
        continue;
      symbols.push({ occurrence, sort: named.sort, name: named.name, container: named.owner?.name });
      if (symbols.length >= most) return symbols;
    }
  }
  return symbols;
}

function holdsInOrder(name: string, letters: string): boolean {
  let at = 0;
  for (const letter of letters) {
    at = name.indexOf(letter, at) + 1;
    if (at === 0) return false;
  }
  return true;
}
