// What hangs loose in the `connect` chains, is on the wrong side, or leads past the converter.
import type { KindName } from '../kinds/kind.ts';
import type { Report } from './report.ts';
import type { ChainLink, ConnectedNode } from './topology.ts';
import { type Graph, shortestWay } from './ways.ts';

export interface Loose {
  readonly nodes: ReadonlyMap<string, ConnectedNode>;
  readonly chains: readonly (readonly ChainLink[])[];
  readonly graph: Graph;
  readonly report: Report;
}

/** What hangs loose is told once: at the end that should lead on, or else where the component is declared. */
export function reportLoose(loose: Loose): void {
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

/** Alternating current on the one side of a converter, direct current on the other. */
export function reportSides(
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
