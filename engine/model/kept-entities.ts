// Facts of whole declarations from earlier analyses: they serve again where a declaration that names nothing but the part
// that it is made from stands where it stood, and that part is what it was.
import type { EntityDeclaration } from '../../grammar/ast.ts';
import type { LoweredFacts } from './facts.ts';
import type { Placed } from './scope.ts';

interface Kept {
  readonly path: string;
  readonly start: number;
  /** Of the part that it is made from. */
  readonly inherited: LoweredFacts | undefined;
  readonly lowered: LoweredFacts;
}

const byNode = new WeakMap<EntityDeclaration, Kept>();

/** Undefined where nothing is kept, or where it was made in another place; `inherited` is asked for only if need be. */
export function keptFacts(
  { node, path, start }: Placed<EntityDeclaration>,
  inherited: () => LoweredFacts | undefined,
): LoweredFacts | undefined {
  const kept = byNode.get(node);
  if (kept === undefined || kept.start !== start || kept.path !== path) return undefined;
  return node.base === undefined || inherited() === kept.inherited ? kept.lowered : undefined;
}

/** For a declaration without fault, none of whose values names anything. */
export function keepFacts(
  { node, path, start }: Placed<EntityDeclaration>,
  inherited: LoweredFacts | undefined,
  lowered: LoweredFacts,
): void {
  byNode.set(node, { path, start, inherited, lowered });
}
