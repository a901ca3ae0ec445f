// Ways along the `connect` chains: who is whose neighbour, and how one gets from a converter to a source or a store.
import type { KindName } from '../kinds/kind.ts';
import type { ChainLink, ConnectedNode } from './topology.ts';

export interface Graph {
  readonly neighbours: ReadonlyMap<string, readonly string[]>;
  /** The neighbour at an element's first named side. */
  readonly firstSide: ReadonlyMap<string, string>;
}

export function buildGraph(chains: readonly (readonly ChainLink[])[]): Graph {
  const neighbours = new Map<string, string[]>();
  const firstSide = new Map<string, string>();
  const join = (from: string, to: string): void => {
    const list = neighbours.get(from) ?? [];
    neighbours.set(from, list);
    if (!list.includes(to)) list.push(to);
  };
  for (const chain of chains) {
    for (const [index, link] of chain.entries()) {
      const next = chain[index + 1];
      if (next === undefined || next.tag === link.tag) continue;
      join(link.tag, next.tag);
      join(next.tag, link.tag);
      if (!firstSide.has(next.tag)) firstSide.set(next.tag, link.tag);
    }
  }
  return { neighbours, firstSide };
}

/** Tags behind the converter up to and with the nearest node of the kind; none where there is no way. */
export function shortestWay(
  from: string,
  kind: KindName,
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
): readonly string[] | undefined {
  return waysTo(from, kind, nodes, graph)[0];
}

/**
 * Tags behind the converter up to and with each node of the kind that can be reached, the nearest first; never through
 * another source, store or converter. Of two ways that meet, both go the same way from there on.
 */
export function waysTo(
  from: string,
  kind: KindName,
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
): readonly (readonly string[])[] {
  const ways: (readonly string[])[] = [];
  const cameFrom = new Map<string, string>([[from, from]]);
  const queue = [from];
  for (let tag = queue.shift(); tag !== undefined; tag = queue.shift()) {
    for (const next of graph.neighbours.get(tag) ?? []) {
      const node = nodes.get(next);
      if (node === undefined || cameFrom.has(next)) continue;
      cameFrom.set(next, tag);
      if (node.kind === kind) ways.push(unwind(next, from, cameFrom));
      else if (node.kind !== 'grid' && node.kind !== 'battery' && node.kind !== 'converter') queue.push(next);
    }
  }
  return ways;
}

function unwind(end: string, from: string, cameFrom: ReadonlyMap<string, string>): string[] {
  const way: string[] = [];
  for (let tag = end; tag !== from; tag = cameFrom.get(tag)!) way.unshift(tag);
  return way;
}
