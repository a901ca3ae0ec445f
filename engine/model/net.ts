// Converters that share batteries, but reach them by unlike ways: the cables between all of them as one net.
import type { DcTree } from './packs.ts';
import type { ConnectedNode } from './topology.ts';
import type { Graph } from './ways.ts';

/** Where everything lies on a net of cables; points are numbered from 0, both poles counted as one. */
export interface NetPlan {
  readonly points: number;
  /** Cables, from one point to another. */
  readonly runs: readonly { readonly tag: string; readonly from: number; readonly to: number }[];
  readonly batteries: readonly { readonly tag: string; readonly point: number }[];
  readonly converters: readonly { readonly tag: string; readonly point: number }[];
  /** Cables, buses and whatever else lies between them. */
  readonly tags: readonly string[];
}

/**
 * The net of converters that share batteries; undefined where something else than cables and what has no resistance lies
 * between them, or where a cable is named with more than two neighbours, so that its ends can't be told apart.
 */
export function netOf(
  trees: readonly DcTree[],
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
): NetPlan | undefined {
  const converters = trees.map(({ converter }) => converter);
  const batteries = [...new Set(trees.flatMap(tree => tree.batteries))];
  const ends = new Set([...converters, ...batteries]);
  const tags = between(trees, ends, nodes, graph);
  const isPassed = (tag: string): boolean =>
    nodes.get(tag)?.kind === 'cable' || nodes.get(tag)?.kind === 'bus' || nodes.get(tag)?.kind === 'fuse';
  if (!tags.every(isPassed)) return undefined;
  const inNet = new Set([...ends, ...tags]);
  const neighboursOf = (tag: string): readonly string[] =>
    (graph.neighbours.get(tag) ?? []).filter(one => inNet.has(one));
  const cables = tags.filter(tag => nodes.get(tag)?.kind === 'cable');
  if (cables.some(tag => neighboursOf(tag).length > 2)) return undefined;
  const points = new Points();
  const end = (tag: string, towards: string): string =>
    cables.includes(tag) ? `${tag}|${neighboursOf(tag).indexOf(towards)}` : tag;
  for (const tag of inNet) for (const next of neighboursOf(tag)) points.join(end(tag, next), end(next, tag));
  const placed = (list: readonly string[]) => list.map(tag => ({ tag, point: points.of(tag) }));
  const net = { batteries: placed(batteries), converters: placed(converters), tags };
  const runs = cables.map(tag => ({ tag, from: points.of(`${tag}|0`), to: points.of(`${tag}|1`) }));
  return { ...net, runs, points: points.count };
}

/** Everything that hangs together between the ends, never through one of them. */
function between(
  trees: readonly DcTree[],
  ends: ReadonlySet<string>,
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
): readonly string[] {
  const found = new Set(trees.flatMap(({ ways }) => ways.flat()).filter(tag => !ends.has(tag)));
  for (const tag of found)
    for (const next of graph.neighbours.get(tag) ?? []) if (nodes.has(next) && !ends.has(next)) found.add(next);
  return [...found];
}

/** Names that stand for one point, numbered in the order in which the points are asked for. */
class Points {
  private readonly parents = new Map<string, string>();
  private readonly numbers = new Map<string, number>();

  join(one: string, other: string): void {
    this.parents.set(this.root(one), this.root(other));
  }

  of(name: string): number {
    const root = this.root(name);
    const known = this.numbers.get(root) ?? this.numbers.size;
    this.numbers.set(root, known);
    return known;
  }

  get count(): number {
    return this.numbers.size;
  }

  private root(name: string): string {
    let at = name;
    for (let up = this.parents.get(at); up !== undefined && up !== at; up = this.parents.get(at)) at = up;
    return at;
  }
}
