// How the plant hangs together: for each converter the way to its network and the way to its battery.
import type { Place } from '../finding.ts';
import type { KindName } from '../kinds/kind.ts';
import type { Report } from './report.ts';

export interface Topology {
  /** Equal signatures mean equal topologies. */
  readonly signature: string;
  readonly routes: readonly Route[];
  /** With one converter unit lost, the largest: what is left shares everything anew. Undefined without any converter. */
  readonly rest: { readonly lost: string; readonly routes: readonly Route[] } | undefined;
}

/** One converter with all that lies between its network and its battery. */
export interface Route {
  readonly converter: string;
  readonly grid: string | undefined;
  /** From the network to the converter. */
  readonly ac: readonly RouteElement[];
  /** From the converter to the battery. */
  readonly dc: readonly RouteElement[];
  readonly battery: string | undefined;
  /** The chopper between converter and battery. */
  readonly chopper: string | undefined;
  /** The part of the battery's current that this route carries. Parallel routes share by the ratings of their converters. */
  readonly batteryShare: number;
  /** The part of the power demanded at the network that this route carries, likewise. */
  readonly gridShare: number;
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
  const walks = [...nodes.values()]
    .filter(node => node.kind === 'converter')
    .map(node => walkFrom(node, nodes, graph, report));
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
  return { signature: JSON.stringify([routes, rest?.lost]), routes, rest };
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
    for (const tag of [walk.grid, walk.battery, ...walk.ac, ...walk.dc])
      if (tag !== undefined) passing.set(tag, (passing.get(tag) ?? 0) + ratings.get(walk.converter)!);
  }
  return walks.map(walk => {
    const shareOf = (tag: string): number => ratings.get(walk.converter)! / passing.get(tag)!;
    const element = (tag: string, towardsConverter: string): RouteElement => ({
      tag,
      kind: nodes.get(tag)!.kind,
      share: shareOf(tag),
      reversed: graph.firstSide.get(tag) === towardsConverter,
    });
    return {
      converter: walk.converter,
      grid: walk.grid,
      battery: walk.battery,
      chopper: walk.dc.find(tag => nodes.get(tag)?.kind === 'chopper'),
      ac: walk.ac.map((tag, index) => element(tag, walk.ac[index + 1] ?? walk.converter)),
      dc: walk.dc.map((tag, index) => element(tag, walk.dc[index - 1] ?? walk.converter)),
      batteryShare: walk.battery === undefined ? 1 : shareOf(walk.battery),
      gridShare: walk.grid === undefined ? 1 : shareOf(walk.grid),
    };
  });
}

interface Graph {
  readonly neighbours: ReadonlyMap<string, readonly string[]>;
  /** The neighbour at an element's first named side. */
  readonly firstSide: ReadonlyMap<string, string>;
}

function buildGraph(chains: readonly (readonly ChainLink[])[]): Graph {
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

interface Walk {
  readonly converter: string;
  readonly grid: string | undefined;
  readonly battery: string | undefined;
  /** Tags from the network to the converter. */
  readonly ac: readonly string[];
  /** Tags from the converter to the battery. */
  readonly dc: readonly string[];
}

function walkFrom(
  converter: ConnectedNode,
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
  report: Report,
): Walk {
  const toGrid = shortestWay(converter.tag, 'grid', nodes, graph);
  const toBattery = shortestWay(converter.tag, 'battery', nodes, graph);
  reportSecond(converter, 'battery', toBattery?.at(-1), nodes, graph, report);
  reportSecond(converter, 'grid', toGrid?.at(-1), nodes, graph, report);
  const ac = toGrid?.slice(0, -1).reverse() ?? [];
  const dc = toBattery?.slice(0, -1) ?? [];
  reportSides(converter, nodes, ac, dc, report);
  return { converter: converter.tag, grid: toGrid?.at(-1), battery: toBattery?.at(-1), ac, dc };
}

/** Only the nearest network and the nearest battery count yet: said where there is another one. */
function reportSecond(
  converter: ConnectedNode,
  kind: 'grid' | 'battery',
  first: string | undefined,
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
  report: Report,
): void {
  if (first === undefined) return;
  const others = new Map([...nodes].filter(([tag]) => tag !== first));
  const second = shortestWay(converter.tag, kind, others, graph)?.at(-1);
  if (second === undefined) return;
  const what = kind === 'grid' ? 'networks' : 'batteries';
  report.add({
    code: 'not_evaluated',
    severity: 'note',
    place: nodes.get(second)!.place,
    subject: second,
    message: `Several ${what} on one converter are read but not evaluated yet: ${converter.tag} is judged with ${first} alone.`,
  });
}

/** Tags behind the converter up to and with the first node of the kind; never through another source, store or converter. */
function shortestWay(
  from: string,
  kind: KindName,
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
): string[] | undefined {
  const cameFrom = new Map<string, string>([[from, from]]);
  const queue = [from];
  for (let tag = queue.shift(); tag !== undefined; tag = queue.shift()) {
    for (const next of graph.neighbours.get(tag) ?? []) {
      const node = nodes.get(next);
      if (node === undefined || cameFrom.has(next)) continue;
      cameFrom.set(next, tag);
      if (node.kind === kind) return unwind(next, from, cameFrom);
      if (node.kind !== 'grid' && node.kind !== 'battery' && node.kind !== 'converter') queue.push(next);
    }
  }
  return undefined;
}

function unwind(end: string, from: string, cameFrom: ReadonlyMap<string, string>): string[] {
  const way: string[] = [];
  for (let tag = end; tag !== from; tag = cameFrom.get(tag)!) way.unshift(tag);
  return way;
}

interface Loose {
  readonly nodes: ReadonlyMap<string, ConnectedNode>;
  readonly chains: readonly (readonly ChainLink[])[];
  readonly graph: Graph;
  readonly report: Report;
}

/** What hangs loose is told once: at the end that should lead on, or else where the component is declared. */
function reportLoose(loose: Loose): void {
  const told = new Set([...reportShortcuts(loose), ...reportOpenEnds(loose)]);
  for (const node of loose.nodes.values()) {
    if (loose.graph.neighbours.has(node.tag) || told.has(node.tag)) continue;
    loose.report.add({
      code: 'unconnected',
      severity: 'warning',
      place: node.place,
      subject: node.tag,
      message: `${node.tag} stands in no \`connect\`: nothing is computed with it.`,
    });
  }
  for (const node of loose.nodes.values())
    if (node.kind === 'converter' && !told.has(node.tag)) reportOneSided(node, loose);
}

/** Reports batteries that meet a network with no converter between; tells which converters that leaves out. */
function reportShortcuts({ nodes, chains, graph, report }: Loose): readonly string[] {
  const left = unreached(nodes, graph, kind => kind === 'converter');
  const told: string[] = [];
  for (const node of nodes.values()) {
    const way = node.kind === 'battery' ? shortestWay(node.tag, 'grid', nodes, graph) : undefined;
    if (way === undefined) continue;
    const link = chains.flat().find(candidate => candidate.tag === node.tag);
    report.add({
      code: 'unconnected',
      place: link?.place ?? node.place,
      subject: node.tag,
      message: `${node.tag} meets ${way.at(-1)} here with no converter between: direct current on one side, alternating on the other.`,
      related: left.map(({ place, tag }) => ({ place, message: `${tag} stands in no \`connect\`.` })),
    });
    told.push(node.tag, ...left.map(({ tag }) => tag));
  }
  return told;
}

/** Reports lines that end nowhere; tells the sources and stores to which they probably should lead. */
function reportOpenEnds({ nodes, chains, graph, report }: Loose): readonly string[] {
  const left = unreached(nodes, graph, kind => kind === 'grid' || kind === 'battery');
  const told: string[] = [];
  for (const end of chains.flatMap(chain => [chain[0], chain.at(-1)])) {
    const node = end === undefined ? undefined : nodes.get(end.tag);
    if (node === undefined || end === undefined || graph.neighbours.get(node.tag)?.length !== 1) continue;
    if (node.kind === 'grid' || node.kind === 'battery' || node.kind === 'bus') continue;
    const hint = left.length === 0 ? '' : `; ${left.map(({ tag }) => tag).join(' and ')} stands in no \`connect\``;
    report.add({
      code: 'unconnected',
      severity: 'warning',
      place: end.place,
      subject: node.tag,
      message: `The line ends at ${node.tag}, a ${node.kind}: it should lead to a network or to a battery${hint}.`,
      related: left.map(({ place, tag }) => ({ place, message: `${tag} is declared here.` })),
    });
    told.push(node.tag, ...left.map(({ tag }) => tag));
    // What lies behind an open end is told by it as well.
    for (const converter of nodes.values())
      if (converter.kind === 'converter' && reaches(end.tag, converter.tag, graph)) told.push(converter.tag);
  }
  return told;
}

/** A converter whose line is closed, but that has no network or no battery of its own. */
function reportOneSided(converter: ConnectedNode, { nodes, graph, report }: Loose): void {
  if (!graph.neighbours.has(converter.tag)) return;
  const lacking = (['grid', 'battery'] as const).filter(
    kind => shortestWay(converter.tag, kind, nodes, graph) === undefined,
  );
  const between = shortestWay(converter.tag, 'converter', nodes, graph)?.at(-1);
  // Two converters in one line are told once, at the one towards the network.
  if (lacking.length === 0 || (between !== undefined && !lacking.includes('battery'))) return;
  const because = between === undefined ? '' : `: ${between}, another converter, stands in its line`;
  report.add({
    code: 'unconnected',
    severity: 'warning',
    place: converter.place,
    subject: converter.tag,
    message: `No line leads from ${converter.tag} to a ${lacking.join(' or to a ')}${because}; what it carries stays unknown.`,
  });
}

function unreached(
  nodes: ReadonlyMap<string, ConnectedNode>,
  graph: Graph,
  wanted: (kind: KindName) => boolean,
): readonly ConnectedNode[] {
  return [...nodes.values()].filter(({ tag, kind }) => wanted(kind) && !graph.neighbours.has(tag));
}

function reaches(from: string, to: string, graph: Graph): boolean {
  const seen = new Set([from]);
  const queue = [from];
  for (let tag = queue.shift(); tag !== undefined; tag = queue.shift()) {
    if (tag === to) return true;
    for (const next of graph.neighbours.get(tag) ?? []) {
      if (seen.has(next)) continue;
      seen.add(next);
      queue.push(next);
    }
  }
  return false;
}

function reportSides(
  converter: ConnectedNode,
  nodes: ReadonlyMap<string, ConnectedNode>,
  ac: readonly string[],
  dc: readonly string[],
  report: Report,
): void {
  for (const tag of dc) {
    const node = nodes.get(tag);
    if (node === undefined || (node.kind !== 'transformer' && node.kind !== 'filter' && !ac.includes(tag))) continue;
    report.add({
      code: 'unconnected',
      place: node.place,
      subject: tag,
      message: `${tag} stands between ${converter.tag} and its battery, where there is direct current: a ${node.kind} belongs on the network side.`,
    });
  }
  for (const tag of ac) {
    if (nodes.get(tag)?.kind !== 'chopper') continue;
    report.add({
      code: 'unconnected',
      place: nodes.get(tag)!.place,
      subject: tag,
      message: `${tag} stands on the network side of ${converter.tag}; a chopper belongs between converter and battery.`,
    });
  }
}
