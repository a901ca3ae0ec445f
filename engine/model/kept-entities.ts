// Facts of whole declarations from earlier analyses: they serve again where a declaration stands where it stood, the part
// that it is made from is what it was, and whatever else its properties name still says the same.
import type { EntityDeclaration, Property as PropertyNode } from '../../grammar/ast.ts';
import type { Property } from '../kinds/kind.ts';
import type { LoweredFacts } from './facts.ts';
import type { Fact } from './plant.ts';
import type { Placed } from './scope.ts';

/** A property whose value names something, and what came of it. */
export interface Asking {
  readonly node: PropertyNode;
  readonly fact: Fact;
}

/** Lowers a property again, or recalls what came of it. */
export type Again = (node: PropertyNode, property: Property) => Fact | undefined;

export interface Kept {
  readonly path: string;
  readonly start: number;
  /** Of the part that it is made from. */
  readonly inherited: LoweredFacts | undefined;
  readonly asking: readonly Asking[];
  readonly lowered: LoweredFacts;
}

const byNode = new WeakMap<EntityDeclaration, Kept>();

/** What is kept of a declaration; undefined where that is nothing, or where it was made in another place. */
export function keptAt({ node, path, start }: Placed<EntityDeclaration>): Kept | undefined {
  const kept = byNode.get(node);
  return kept === undefined || kept.start !== start || kept.path !== path ? undefined : kept;
}

/** For a declaration without fault. */
export function keepFacts({ node, path, start }: Placed<EntityDeclaration>, kept: Omit<Kept, 'path' | 'start'>): void {
  byNode.set(node, { path, start, ...kept });
}

/** Whether the properties come to the same facts again. */
export function sayTheSame(asking: readonly Asking[], again: Again): boolean {
  for (const { node, fact } of asking) if (again(node, fact.property) !== fact) return false;
  return true;
}
