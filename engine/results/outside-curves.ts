// Curves that were asked for a point beyond their ends, in the order in which values are defined.
import type { Definition } from './definition.ts';
import type { Slab } from './graph.ts';
import type { LookedSlab } from './looks.ts';
import type { OutsideCurve } from './noted.ts';
import type { StripTable } from './strip-table.ts';

export type OutsideInCase = OutsideCurve & { readonly caseIndex: number };

export interface SlabInUse {
  readonly slab: Slab;
  readonly definition: Definition;
  /** Of its strip: by component, then by value and duty. */
  readonly number: number;
  readonly caseIndex: number;
}

export function outsideOf(slabs: Iterable<SlabInUse>): readonly OutsideInCase[] {
  const found: { readonly outside: OutsideCurve; readonly in: SlabInUse }[] = [];
  for (const inUse of slabs) for (const outside of inUse.slab.outside) found.push({ outside, in: inUse });
  found.sort((a, b) => compare(a.in, b.in));
  return found.map(({ outside, in: { caseIndex } }) => ({ ...outside, caseIndex }));
}

function compare(a: SlabInUse, b: SlabInUse): number {
  return a.definition.id - b.definition.id || a.number - b.number || a.caseIndex - b.caseIndex;
}

/**
 * Columns that were asked for, whole strips and columns by strip and case, with all that they looked at: a strip that was
 * filled for all its cases may hold more than anybody wants.
 */
export function* slabsInUse(
  table: StripTable,
  cases: number,
  strips: Iterable<number>,
  columns: ReadonlySet<number>,
  slabOf: (seen: LookedSlab, caseIndex: number) => Slab,
): Generator<SlabInUse> {
  const places = new Set(columns);
  for (const strip of strips)
    for (let caseIndex = 0; caseIndex < cases; caseIndex++)
      if (table.known(strip, caseIndex) !== undefined) places.add(strip * cases + caseIndex);
  const waiting: SlabInUse[] = [];
  for (const place of places) {
    const number = Math.floor(place / cases);
    const caseIndex = place - number * cases;
    waiting.push({ number, caseIndex, slab: table.known(number, caseIndex)!, definition: table.definition(number) });
  }
  for (let next = waiting.pop(); next !== undefined; next = waiting.pop()) {
    const { slab, caseIndex } = next;
    yield next;
    for (const looked of slab.looked.slabs) {
      const place = looked.strip * cases + caseIndex;
      if (places.has(place)) continue;
      places.add(place);
      const { strip: number, definition } = looked;
      waiting.push({ number, caseIndex, slab: slabOf(looked, caseIndex), definition });
    }
  }
}
