// Highlights: the other places in this file that speak of the thing at the cursor; where a case restates it, it is written.
import type { Place } from '../../engine/finding.ts';
import type { TreeContext } from './context.ts';
import { namesIn } from './occurrences.ts';
import { namedAt } from './references.ts';

export interface Highlight {
  readonly place: Place;
  readonly access: 'read' | 'write';
}

export function highlights({ path, closure }: TreeContext, offset: number): readonly Highlight[] {
  const names = namesIn(closure.snapshot);
  const at = namedAt(names, path, offset);
  if (at === undefined) return [];
  return names
    .occurrencesIn(path)
    .filter(({ named }) => named.key === at.named.key)
    .map(({ place, role }) => ({ place, access: role === 'reference' ? 'read' : 'write' }));
}
