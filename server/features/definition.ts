// Go to definition: from a name to where it is declared, from a fact to the property or the part that states it.
import type { Place } from '../../engine/finding.ts';
import type { TreeContext } from './context.ts';
import { declarationOf, namesIn } from './occurrences.ts';
import { namedAt } from './references.ts';

export interface Definition {
  /** The whole name or path under the cursor. */
  readonly origin: Place;
  readonly target: Place;
}

export function definition({ path, closure }: TreeContext, offset: number): Definition | undefined {
  const names = namesIn(closure.snapshot);
  const at = namedAt(names, path, offset);
  if (at === undefined) return undefined;
  if (at.named.sort === 'file') return { origin: at.place, target: { path: at.named.path, start: 0, end: 0 } };
  const target = declarationOf(names, at.named);
  return target && { origin: at.place, target };
}
