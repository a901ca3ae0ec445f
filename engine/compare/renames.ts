// Finds components that only changed their tag. It takes clear evidence: the same kind, nearly the same facts, and no
// other candidate on either side.
import type { FactRow } from '../analysis.ts';
import type { Renaming } from './comparison.ts';

/** So much of what is stated must agree. */
const enough = 0.75;

export function findRenames(before: readonly FactRow[], after: readonly FactRow[]): readonly Renaming[] {
  const [old, now] = [groupBySubject(before), groupBySubject(after)];
  const lost = [...old.values()].filter(component => !now.has(component.tag));
  const found = [...now.values()].filter(component => !old.has(component.tag));
  const pairs = lost.flatMap(from => found.flatMap(to => pairOf(from, to) ?? []));
  return pairs
    .filter(pair => pairs.every(other => other === pair || (other.from !== pair.from && other.to !== pair.to)))
    .map(({ from, to, same, of }) => ({
      before: from.tag,
      after: to.tag,
      evidence: `both are a ${to.kind}, ${same} of ${of} stated facts agree, and nothing else could be meant`,
    }));
}

interface Stated {
  readonly tag: string;
  readonly kind: string;
  /** By property: what is said of it. */
  readonly facts: Map<string, string>;
}

function groupBySubject(rows: readonly FactRow[]): ReadonlyMap<string, Stated> {
  const bySubject = new Map<string, Stated>();
  for (const row of rows) {
    const known = bySubject.get(row.subject) ?? { tag: row.subject, kind: row.kind, facts: new Map() };
    bySubject.set(row.subject, known);
    if (!row.implied && row.case === undefined) known.facts.set(row.property, row.identity);
  }
  return bySubject;
}

interface Pair {
  readonly from: Stated;
  readonly to: Stated;
  readonly same: number;
  readonly of: number;
}

function pairOf(from: Stated, to: Stated): Pair | undefined {
  if (from.kind !== to.kind) return undefined;
  const properties = new Set([...from.facts.keys(), ...to.facts.keys()]);
  const same = [...properties].filter(property => from.facts.get(property) === to.facts.get(property)).length;
  if (same === 0 || same < enough * properties.size) return undefined;
  return { from, to, same, of: properties.size };
}
