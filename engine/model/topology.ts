// How the plant hangs together: for each converter the way to its network and the way to its battery.
import type { Place } from '../finding.ts';
import type { KindName } from '../kinds/kind.ts';
import { batteriesOf, cellsOf, type RouteCell } from './cells.ts';
import { reportLoose, reportSides } from './loose.ts';
import type { NetPlan } from './net.ts';
import { type Branch, type DcTree, dcTree, evaluated, tagsOf } from './packs.ts';
import type { Report } from './report.ts';
import { buildGraph, type Graph, waysTo } from './ways.ts';

export interface Topology {
  /** Equal signatures mean equal topologies, or topologies that differ at most in who carries which part of what they share. */
  readonly signature: string;
  readonly shape: string;
  readonly routes: readonly Route[];
  /** With one converter unit lost, the largest: what is left shares everything anew. Undefined without any converter. */
  readonly rest: { readonly lost: string; readonly routes: readonly Route[] } | undefined;
}

/** One converter with all that lies between its network and its battery, or its batteries side by side. */
export interface Route {
  readonly converter: string;
  readonly grid: string | undefined;
  /** From the network to the converter. */
  readonly ac: readonly RouteElement[];
  /** From the converter to the battery, or to where the ways to several batteries part. */
  readonly dc: readonly RouteElement[];
  /** The nearest battery. */
  readonly battery: string | undefined;
  /** All of them. */
  readonly batteries: readonly string[];
  /** What lies between `dc` and each of several batteries; none for a single one. */
  readonly branches: readonly RouteBranch[];
  /** None where the batteries are the DC link; one before all of them; or one for each way that parts from a common link. */
  readonly cells: readonly RouteCell[];
  /** Where converters reach the batteries that they share by unlike ways: `dc` is then all between them, in no order. */
  readonly net: RouteNet | undefined;
  /** The part of the battery's current that this route carries. Parallel routes share by the ratings of their converters. */
  readonly batteryShare: number;
  /** The part of the power demanded at the network that this route carries, likewise. */
  readonly gridShare: number;
}

/** A net of cables between converters and batteries, its points numbered from 0. */
export interface RouteNet {
  readonly points: number;
  readonly runs: readonly { readonly tag: string; readonly from: number; readonly to: number }[];
  /** Where each battery of the route lies, in their order. */
  readonly batteries: readonly number[];
  /** Where this converter lies. */
  readonly own: number;
  /** Where each converter draws its current: by its rating the part of what all of them draw. */
  readonly taps: readonly { readonly converter: string; readonly point: number; readonly part: number }[];
}

/** Behind a point where ways part: elements in line, then one battery or further branches. */
export interface RouteBranch {
  readonly elements: readonly RouteElement[];
  readonly battery: string | undefined;
  readonly branches: readonly RouteBranch[];
}

/** What a route is apart from the parts that it carries, which the ratings of the converters decide. */
export interface RouteShape extends Pick<Route, 'converter' | 'grid' | 'battery' | 'batteries'> {
  readonly dc: readonly Pick<RouteElement, 'tag' | 'kind'>[];
  readonly cells: readonly unknown[];
  readonly net: object | undefined;
}

export interface RouteElement {
  readonly tag: string;
  readonly kind: KindName;
  /** The part of the element's current that belongs to this converter: 1/n where n routes of equal rating pass. */
  readonly share: number;
  /** A transformer whose primary (first named side) looks to the converter. */
  readonly reversed: boolean;
}

export interface ConnectedNode {
  readonly tag: string;
  readonly kind: KindName;
  readonly place: Place;
  /** Of a converter: what it is rated for, in whatever measure; undefined where that is not known. */
  readonly rating?: number | undefined;
}

export interface ChainLink {
  readonly tag: string;
  readonly place: Place;
}

/** Builds the topology from the `connect` chains and reports what hangs loose, where the chains are `complete`. */
export function buildTopology(
  nodes: ReadonlyMap<string, ConnectedNode>,
  chains: readonly (readonly ChainLink[])[],
  report: Report,
  complete: boolean,
): Topology {
  const graph = buildGraph(chains);
  if (complete) reportLoose({ nodes, chains, graph, report });
  const converters = [...nodes.values()].filter(node => node.kind === 'converter');
  const trees = evaluated(
    converters.map(node => treeFrom(node, nodes, graph)),
    nodes,
    graph,
    report,
  );
  const walks = converters.map((node, index) => walkFrom(node, trees[index]!, nodes, graph, report));
  const ratings = ratingsOf(walks, nodes);
  const routes = routesOf(walks, ratings, nodes, graph);
  const lost = largest(walks, ratings);
  const rest = lost && {
    lost: lost.converter,
    routes: routesOf(
      walks.filter(walk => walk !== lost),
      ratings,
      nodes,
      graph,
    ),
  };
  const all = [routes, rest?.lost];
  return { signature: JSON.stringify(all), shape: JSON.stringify(all, withoutParts), routes, rest };
}

const parts: ReadonlySet<string> = new Set<keyof Route | keyof RouteElement | 'part'>([
  'batteryShare',
  'gridShare',
  'share',
  'part',
]);

function withoutParts(key: string, value: unknown): unknown {
  return parts.has(key) ? undefined : value;
}

/** By converter, as parts of the largest; all alike where one of them is not known. */
function ratingsOf(walks: readonly Walk[], nodes: ReadonlyMap<string, ConnectedNode>): ReadonlyMap<string, number> {
  const stated = walks.map(walk => nodes.get(walk.converter)?.rating ?? Number.NaN);
  const most = Math.max(...stated);
  const known = stated.every(rating => rating > 0 && Number.isFinite(rating));
  return new Map(walks.map((walk, index) => [walk.converter, known ? stated[index]! / most : 1]));
}

/** The first of the largest. */
function largest(walks: readonly Walk[], ratings: ReadonlyMap<string, number>): Walk | undefined {
  return walks.reduce<Walk | undefined>(
    (most, walk) => (most === undefined || ratings.get(walk.converter)! > ratings.get(most.converter)! ? walk : most),
    undefined,
  );
}

function routesOf(
  walks: readonly Walk[],
  ratings: ReadonlyMap<string, number>,
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
): readonly Route[] {
  const passing = new Map<string, number>();
  for (const walk of walks) {
    for (const tag of passedBy(walk)) passing.set(tag, (passing.get(tag) ?? 0) + ratings.get(walk.converter)!);
  }
  return walks.map(walk => {
    const { converter, grid, ac, tree } = walk;
    const [battery] = tree.batteries;
    const shareOf = (tag: string): number => ratings.get(converter)! / passing.get(tag)!;
    const element = (tag: string, towardsConverter: string): RouteElement => ({
      tag,
      kind: nodes.get(tag)!.kind,
      share: shareOf(tag),
      reversed: graph.firstSide.get(tag) === towardsConverter,
    });
    const inLine = (tags: readonly string[], before: string): readonly RouteElement[] =>
      tags.map((tag, index) => element(tag, tags[index - 1] ?? before));
    const branch = (before: string) => {
      return (of: Branch): RouteBranch => ({
        elements: inLine(of.tags, before),
        battery: of.battery,
        branches: of.branches.map(branch(of.tags.at(-1) ?? before)),
      });
    };
    const { net } = tree;
    const dc = inLine(net?.tags ?? tree.trunk, converter);
    const branches = net === undefined ? tree.branches.map(branch(tree.trunk.at(-1) ?? converter)) : [];
    return {
      converter,
      grid,
      battery,
      batteries: tree.batteries,
      ac: ac.map((tag, index) => element(tag, ac[index + 1] ?? converter)),
      dc,
      branches,
      cells: cellsOf({ dc, branches, batteries: tree.batteries }),
      net: net && netAt(net, walk, walks, ratings),
      batteryShare: battery === undefined ? 1 : shareOf(battery),
      gridShare: grid === undefined ? 1 : shareOf(grid),
    };
  });
}

/** The net as one converter finds it, with those that are there. */
function netAt(
  net: NetPlan,
  { converter, tree }: Walk,
  walks: readonly Walk[],
  ratings: ReadonlyMap<string, number>,
): RouteNet {
  const pointOf = (placed: NetPlan['batteries'], tag: string): number => placed.find(one => one.tag === tag)!.point;
  const there = net.converters.filter(({ tag }) => walks.some(walk => walk.converter === tag));
  const whole = there.reduce((sum, { tag }) => sum + ratings.get(tag)!, 0);
  return {
    points: net.points,
    runs: net.runs,
    batteries: tree.batteries.map(tag => pointOf(net.batteries, tag)),
    own: pointOf(net.converters, converter),
    taps: there.map(({ tag, point }) => ({ converter: tag, point, part: ratings.get(tag)! / whole })),
  };
}

function passedBy({ grid, ac, tree }: Walk): readonly string[] {
  const ends = grid === undefined ? tree.batteries : [grid, ...tree.batteries];
  if (tree.net !== undefined) return [...ends, ...ac, ...tree.net.tags];
  return [...ends, ...ac, ...tree.trunk, ...tagsOf(tree.branches)];
}

/** All elements on the direct-current side of a route, whichever of its batteries they lead to. */
export function directElements({ dc, branches }: Pick<Route, 'dc' | 'branches'>): readonly RouteElement[] {
  const behind = (all: readonly RouteBranch[]): readonly RouteElement[] =>
    all.flatMap(branch => [...branch.elements, ...behind(branch.branches)]);
  return branches.length === 0 ? dc : [...dc, ...behind(branches)];
}

/** The batteries to which a branch leads that holds the element; undefined for what lies before all of them. */
export function batteriesBehind({ branches }: Pick<Route, 'branches'>, tag: string): readonly string[] | undefined {
  for (const branch of branches) {
    if (branch.elements.some(element => element.tag === tag)) return batteriesOf(branch);
    const found = batteriesBehind(branch, tag);
    if (found !== undefined) return found;
  }
  return undefined;
}

interface Walk {
  readonly converter: string;
  readonly grid: string | undefined;
  /** Tags from the network to the converter. */
  readonly ac: readonly string[];
  readonly tree: DcTree;
}

/** A battery on the network's side is told elsewhere: it is not one of the converter's, unless there is no other. */
function treeFrom(converter: ConnectedNode, nodes: ReadonlyMap<string, ConnectedNode>, graph: Graph): DcTree {
  const ways = waysTo(converter.tag, 'battery', nodes, graph);
  const kinds = new Set<KindName>(['transformer', 'filter']);
  const network = new Set(waysTo(converter.tag, 'grid', nodes, graph)[0]);
  const direct = ways.filter(way => !way.some(tag => network.has(tag) || kinds.has(nodes.get(tag)!.kind)));
  return dcTree(converter.tag, direct.length === 0 ? ways.slice(0, 1) : direct);
}

function walkFrom(
  converter: ConnectedNode,
  tree: DcTree,
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
  report: Report,
): Walk {
  const [toGrid, ...others] = waysTo(converter.tag, 'grid', nodes, graph);
  const grid = toGrid?.at(-1);
  const second = others[0]?.at(-1);
  if (second !== undefined) reportSecond(converter, grid!, nodes.get(second)!, report);
  const ac = toGrid?.slice(0, -1).reverse() ?? [];
  reportSides(converter, nodes, ac, [...tree.trunk, ...tagsOf(tree.branches)], report);
  return { converter: converter.tag, grid, ac, tree };
}

/** Only the nearest network counts yet: said where there is another one. */
function reportSecond(converter: ConnectedNode, first: string, second: ConnectedNode, report: Report): void {
  report.add({
    code: 'not_evaluated',
    severity: 'note',
    place: second.place,
    subject: second.tag,
    message: `Several networks on one converter are read but not evaluated yet: ${converter.tag} is judged with ${first} alone.`,
  });
}
