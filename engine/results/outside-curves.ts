// Curves that were asked for a point beyond their ends, in the order in which values are defined.
import type { Definition } from './definition.ts';
import type { Slab } from './graph.ts';
import type { OutsideCurve } from './noted.ts';

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
