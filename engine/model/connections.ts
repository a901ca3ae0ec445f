// The `connect` chains of a plant: which tags they name, and what is taken where nobody says how things hang together.
import type { ConnectDeclaration } from '../../grammar/ast.ts';
import type { Place } from '../finding.ts';
import type { Lowerer } from './lowerer.ts';
import { reportUnknown } from './names.ts';
import type { Component } from './plant.ts';
import type { Report } from './report.ts';
import { type Placed, placeOf } from './scope.ts';
import { buildTopology, type ChainLink, type ConnectedNode, type Topology } from './topology.ts';

export function lowerConnections(
  site: Component,
  components: readonly Component[],
  byTag: ReadonlyMap<string, Component>,
  lowerer: Lowerer,
): Topology {
  const nodes = new Map<string, ConnectedNode>();
  for (const component of components) {
    const { tag, kind, place } = component;
    if (kind.role !== 'none') nodes.set(tag, { tag, kind: kind.name, place, rating: ratingOf(component) });
  }
  const chains: (readonly ChainLink[])[] = [];
  // A chain that could not be read in full may reach whatever seems to hang loose.
  let complete = ![...nodes.keys()].some(tag => lowerer.root.unread.words.has(tag));
  let connected = !complete;
  for (const placed of lowerer.root.declarations) {
    if (placed.node.type !== 'connect') continue;
    connected = true;
    const pieces = lowerChain({ ...placed, node: placed.node }, byTag, nodes, lowerer);
    if (placed.flawed || pieces.length > 1) complete = false;
    chains.push(...pieces);
  }
  if (!connected) {
    const implied = impliedChain(nodes, lowerer);
    if (implied !== undefined) chains.push(implied);
    else {
      if (complete) reportNoConnection(site, nodes, lowerer);
      complete = false;
    }
  }
  return topologyOf(nodes, chains, lowerer.report, complete);
}

/** Of the latest plants that hang together without fault, by all that a topology follows from: most edits change none of it. */
const kept = new Map<string, Topology>();
const mostKept = 8;

function topologyOf(
  nodes: ReadonlyMap<string, ConnectedNode>,
  chains: readonly (readonly ChainLink[])[],
  report: Report,
  complete: boolean,
): Topology {
  const described = [...nodes.values()].map(({ tag, kind, rating }) => `${tag} ${kind} ${rating}`);
  const linked = chains.map(chain => chain.map(({ tag }) => tag).join(' '));
  const key = [complete, ...described, '', ...linked].join('\n');
  const known = kept.get(key);
  if (known !== undefined) return known;
  const { said } = report;
  const topology = buildTopology(nodes, chains, report, complete);
  // What was found fault with has to be said anew each time, where it then stands.
  if (report.said !== said) return topology;
  kept.set(key, topology);
  if (kept.size > mostKept) kept.delete(kept.keys().next().value!);
  return topology;
}

/** The current that a converter is rated for in the base case, A: parallel ones share by it. */
function ratingOf({ kind, facts }: Component): number | undefined {
  const value = kind.name === 'converter' ? facts.get('ac_current')?.value : undefined;
  return value?.type === 'number' ? value.nominal : undefined;
}

/** The links of a chain; in pieces where a link between them is not known, so that nothing is taken as its neighbour. */
function lowerChain(
  placed: Placed<ConnectDeclaration>,
  byTag: ReadonlyMap<string, Component>,
  nodes: ReadonlyMap<string, ConnectedNode>,
  lowerer: Lowerer,
): readonly (readonly ChainLink[])[] {
  const pieces: ChainLink[][] = [[]];
  const seen = new Set<string>();
  let before = 0;
  for (const name of placed.node.chain) {
    const place = placeOf(placed, name);
    if (placed.doubts.some(doubt => doubt.start >= before && doubt.start < name.start) && seen.size > 0)
      pieces.push([]);
    before = name.end;
    if (seen.has(name.text))
      lowerer.report.add({
        code: 'duplicate',
        place,
        message: `${name.text} stands twice in this chain: a line passes each component once.`,
      });
    else if (nodes.has(name.text)) pieces.at(-1)!.push({ tag: name.text, place });
    else {
      reportBadLink(name.text, place, byTag, nodes, lowerer);
      pieces.push([]);
    }
    seen.add(name.text);
  }
  return pieces;
}

function reportBadLink(
  tag: string,
  place: Place,
  byTag: ReadonlyMap<string, Component>,
  nodes: ReadonlyMap<string, ConnectedNode>,
  lowerer: Lowerer,
): void {
  const other = byTag.get(tag);
  if (other === undefined) {
    reportUnknown(lowerer.report, {
      scope: lowerer.root,
      path: [tag],
      place,
      message: `There is no component \`${tag}\``,
      candidates: [...nodes.keys()],
      canBeUsed: false,
    });
    return;
  }
  const message = `${tag} is a ${other.kind.name}, which is no part of the one-line.`;
  lowerer.report.add({ code: 'wrong_value', place, message });
}

function reportNoConnection(site: Component, nodes: ReadonlyMap<string, ConnectedNode>, lowerer: Lowerer): void {
  if (nodes.size === 0) return;
  const lacking = ['grid', 'converter', 'battery'].filter(
    kind => ![...nodes.values()].some(node => node.kind === kind),
  );
  const because = lacking.length === 0 ? '' : `, and there is no ${lacking.join(' and no ')}`;
  lowerer.report.add({
    code: 'unconnected',
    severity: 'warning',
    place: site.place,
    subject: site.tag,
    message: `Nothing says how the plant is connected${because}: write it as in \`connect MAIN -> T1 -> K1 -> B1\`, or nothing is computed along the line.`,
  });
}

const customaryOrder = ['grid', 'transformer', 'filter', 'converter', 'battery'] as const;

/** Without any `connect`, a plant with at most one of each is taken in the customary order, visibly. */
function impliedChain(nodes: ReadonlyMap<string, ConnectedNode>, lowerer: Lowerer): ChainLink[] | undefined {
  const chain: ChainLink[] = [];
  for (const kind of customaryOrder) {
    const those = [...nodes.values()].filter(node => node.kind === kind);
    if (those.length > 1) return undefined;
    if (those[0] !== undefined) chain.push(those[0]);
  }
  const kinds = new Set(chain.map(link => nodes.get(link.tag)!.kind));
  if (!kinds.has('grid') || !kinds.has('converter') || !kinds.has('battery')) return undefined;
  const last = nodes.get(chain.at(-1)!.tag)!;
  const line = `connect ${chain.map(link => link.tag).join(' -> ')}`;
  const end = lowerer.root.tree.text.length;
  const lead = lowerer.root.tree.text.endsWith('\n') ? '\n' : '\n\n';
  lowerer.report.add({
    code: 'assumed_by_tool',
    severity: 'note',
    place: last.place,
    message: `Nothing says how the plant is connected; it is taken as \`${line}\`.`,
    fixes: [
      {
        title: 'Write the connection',
        safe: true,
        edits: [{ place: { path: lowerer.root.path, start: end, end }, text: `${lead}${line}\n` }],
      },
    ],
  });
  return chain;
}
