// Facts of whole declarations from earlier analyses: they serve again where the part that a declaration is made from is
// what it was, and whatever else its properties name still says the same.
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

/** What is kept of a declaration in this file; undefined where that is nothing. */
export function keptOf({ node, path }: Placed<EntityDeclaration>): Kept | undefined {
  const kept = byNode.get(node);
  return kept?.path === path ? kept : undefined;
}

/** For a declaration without fault. */
export function keepFacts({ node, path, start }: Placed<EntityDeclaration>, kept: Omit<Kept, 'path' | 'start'>): void {
  byNode.set(node, { path, start, ...kept });
}

/** What the properties come to again; undefined where one says something else. */
export function askedAgain(asking: readonly Asking[], again: Again): readonly Asking[] | undefined {
  let same = true;
  const now: Asking[] = [];
  for (const { node, fact } of asking) {
    const made = again(node, fact.property);
    if (made?.value !== fact.value) return undefined;
    if (made !== fact) same = false;
    now.push({ node, fact: made });
  }
  return same ? asking : now;
}
