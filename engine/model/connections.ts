// The `connect` chains of a plant: which tags they name, and what is taken where nobody says how things hang together.
import type { ConnectDeclaration } from '../../grammar/ast.ts';
import type { Place } from '../finding.ts';
import type { Lowerer } from './lowerer.ts';
import { reportUnknown } from './names.ts';
import type { Component } from './plant.ts';
import { mayBeUnread, type Placed, placeOf } from './scope.ts';
import { buildTopology, type ChainLink, type ConnectedNode, type Topology } from './topology.ts';

export function lowerConnections(
  site: Component,
  components: readonly Component[],
  byTag: ReadonlyMap<string, Component>,
  lowerer: Lowerer,
): Topology {
  const nodes = new Map<string, ConnectedNode>();
  for (const { tag, kind, place } of components)
    if (kind.role !== 'none') nodes.set(tag, { tag, kind: kind.name, place });
  const chains: ChainLink[][] = [];
  // A chain that could not be read in full may reach whatever seems to hang loose.
  let complete = !mayBeUnread(lowerer.root, ['connect'], false);
  let connected = false;
  for (const placed of lowerer.root.declarations) {
    if (placed.node.type !== 'connect') continue;
    connected = true;
    const links = lowerChain({ ...placed, node: placed.node }, byTag, nodes, lowerer);
    if (placed.flawed || links.length < placed.node.chain.length) complete = false;
    chains.push(links);
  }
  if (!connected) {
    const implied = impliedChain(nodes, lowerer);
    if (implied !== undefined) chains.push(implied);
    else {
      if (complete) reportNoConnection(site, nodes, lowerer);
      complete = false;
    }
  }
  return buildTopology(nodes, chains, lowerer.report, complete);
}

function lowerChain(
  placed: Placed<ConnectDeclaration>,
  byTag: ReadonlyMap<string, Component>,
  nodes: ReadonlyMap<string, ConnectedNode>,
  lowerer: Lowerer,
): ChainLink[] {
  const links: ChainLink[] = [];
  for (const name of placed.node.chain) {
    const place = placeOf(placed, name);
    const twice = links.some(link => link.tag === name.text);
    if (twice)
      lowerer.report.add({
        code: 'duplicate',
        place,
        message: `${name.text} stands twice in this chain: a line passes each component once.`,
      });
    else if (nodes.has(name.text)) links.push({ tag: name.text, place });
    else reportBadLink(name.text, place, byTag, nodes, lowerer);
  }
  return links;
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
