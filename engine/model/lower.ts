// A file's scope to a plant: components with all their facts, cases, connections, requirements and acceptances.
import type { EntityDeclaration } from '../../grammar/ast.ts';
import type { Place } from '../finding.ts';
import { kindByName } from '../kinds/index.ts';
import type { Kind } from '../kinds/kind.ts';
import { lowerCases } from './cases.ts';
import { lowerAcceptance, lowerRequirement } from './demands.ts';
import { fallbackFact, type LoweredFacts } from './facts.ts';
import type { Lowerer } from './lowerer.ts';
import { nearest } from './nearest.ts';
import type { Acceptance, Component, Fact, Plant, Requirement } from './plant.ts';
import { type FileScope, find, type Placed, placeOf } from './scope.ts';
import { buildTopology, type ChainLink, type ConnectedNode, type Topology } from './topology.ts';

/** The plant of the root file; undefined where the file holds none. Everything in it is looked at either way. */
export function lowerPlant(lowerer: Lowerer): Plant | undefined {
  const scope = lowerer.root;
  validateDeclarations(scope, lowerer);
  for (const use of scope.uses) validateDeclarations(use.scope, lowerer);
  const head = plantHead(scope, lowerer);
  if (head === undefined) return undefined;

  const components: Component[] = [];
  for (const placed of scope.entities.values()) {
    const kind = kindByName.get(placed.node.kind.text);
    if (kind !== undefined && (kind.name !== 'plant' || placed.node === head.node))
      components.push(makeComponent(scope, placed, kind, lowerer));
  }
  const site = components.find(component => component.kind.name === 'plant')!;
  const practice = practiceOf(site, lowerer);
  components.push(practice);
  const byTag = new Map(components.map(component => [component.tag, component]));
  const { requirements, acceptances } = lowerDemands(lowerer, byTag);
  return {
    name: site.tag,
    place: site.place,
    components,
    byTag,
    site,
    practice,
    duties: components.filter(component => component.kind.name === 'duty'),
    cases: lowerCases(lowerer, byTag),
    topology: lowerConnections(components, byTag, lowerer),
    requirements,
    acceptances,
  };
}

/** Evaluates what stands in a file for its own sake, so that a mistake shows even where nobody uses it. */
function validateDeclarations(scope: FileScope, lowerer: Lowerer): void {
  for (const placed of scope.lets.values()) lowerer.letValue(scope, placed);
  for (const placed of [...scope.parts.values(), ...scope.practices.values(), ...scope.entities.values()]) {
    const kind = knownKind(placed.node.kind, placed, lowerer);
    if (kind !== undefined) lowerer.entity(scope, placed, kind);
  }
  for (const placed of scope.catalogues.values()) {
    const { node } = placed;
    if (node.from !== undefined) {
      lowerer.report.add({
        code: 'not_evaluated',
        severity: 'note',
        place: placeOf(placed, node.from),
        message: 'A catalogue in a file of its own is read but not evaluated yet; rows written here are.',
      });
    }
    const kind = node.kind === undefined ? undefined : knownKind(node.kind, placed, lowerer);
    if (kind !== undefined)
      for (const row of node.rows) lowerer.templateFacts({ type: 'row', scope, catalogue: placed, row }, kind);
  }
}

function knownKind(
  name: { text: string; start: number; end: number },
  placed: Placed<unknown>,
  lowerer: Lowerer,
): Kind | undefined {
  const kind = kindByName.get(name.text);
  if (kind !== undefined) return kind;
  const near = nearest(name.text, kindByName.keys());
  const place = placeOf(placed, name);
  lowerer.report.add({
    code: 'unknown_name',
    place,
    message: `\`${name.text}\` is no kind of component${near === undefined ? '.' : `: did you mean \`${near}\`?`}`,
    fixes: near === undefined ? [] : [{ title: `Change to \`${near}\``, safe: true, edits: [{ place, text: near }] }],
  });
  return undefined;
}

function plantHead(scope: FileScope, lowerer: Lowerer): Placed<EntityDeclaration> | undefined {
  const heads = [...scope.entities.values()].filter(placed => placed.node.kind.text === 'plant');
  for (const extra of heads.slice(1)) {
    lowerer.report.add({
      code: 'duplicate',
      place: placeOf(extra, extra.node.kind),
      message: 'A file holds one plant; move this one to a file of its own.',
      related: [{ place: placeOf(heads[0]!, heads[0]!.node.kind), message: 'The first plant is here.' }],
    });
  }
  if (heads.length > 0) return heads[0];
  const component = [...scope.entities.values()].find(placed => kindByName.has(placed.node.kind.text));
  if (component !== undefined) {
    lowerer.report.add({
      code: 'missing_fact',
      place: placeOf(component, component.node.name ?? component.node.kind),
      message:
        'Components stand here, but no plant: begin the file with `plant` and a name, such as `plant ValleyStation { altitude = 1200 m }`.',
      fixes: [
        {
          title: 'Add a plant',
          safe: false,
          edits: [{ place: { path: scope.path, start: 0, end: 0 }, text: 'plant NewPlant {\n}\n\n' }],
        },
      ],
    });
  }
  return undefined;
}

function makeComponent(scope: FileScope, placed: Placed<EntityDeclaration>, kind: Kind, lowerer: Lowerer): Component {
  const { node } = placed;
  const lowered = lowerer.entity(scope, placed, kind);
  reportNotEvaluated(placed, kind, lowered, lowerer);
  return {
    tag: node.name!.text,
    kind,
    place: placeOf(placed, node.name!),
    whole: placeOf(placed, node),
    insertAt: node.block === undefined ? undefined : insertionPlace(placed, lowerer),
    basePlace: node.base === undefined ? undefined : placeOf(placed, node.base),
    facts: withFallbacks(kind, lowered),
    failed: lowered.failed,
    implied: false,
  };
}

/** Just before the closing brace, on a line of its own where the block has several lines. */
function insertionPlace(placed: Placed<EntityDeclaration>, lowerer: Lowerer): Place {
  const block = placeOf(placed, placed.node.block!);
  const text = lowerer.text(block);
  const inner = text.endsWith('}') ? text.slice(0, -1).trimEnd() : text.trimEnd();
  return { path: block.path, start: block.start + inner.length, end: block.start + inner.length };
}

function withFallbacks(kind: Kind, lowered: LoweredFacts): ReadonlyMap<string, Fact> {
  const facts = new Map(lowered.facts);
  for (const property of kind.properties) {
    if (facts.has(property.name) || lowered.failed.has(property.name)) continue;
    const fact = fallbackFact(property);
    if (fact !== undefined) facts.set(property.name, fact);
  }
  return facts;
}

function reportNotEvaluated(
  placed: Placed<EntityDeclaration>,
  kind: Kind,
  lowered: LoweredFacts,
  lowerer: Lowerer,
): void {
  const { node } = placed;
  const tag = node.name!.text;
  if (kind.notEvaluated === true) {
    lowerer.report.add({
      code: 'not_evaluated',
      severity: 'note',
      place: placeOf(placed, node.name!),
      subject: tag,
      message: `A ${kind.name} is read but not evaluated yet: nothing is computed or checked with ${tag}.`,
    });
    return;
  }
  const unused = [...lowered.facts.values()]
    .filter(fact => fact.property.notEvaluated === true && !fact.inherited)
    .map(fact => `\`${fact.property.name}\``);
  if (unused.length === 0) return;
  lowerer.report.add({
    code: 'not_evaluated',
    severity: 'note',
    place: placeOf(placed, node.name!),
    subject: tag,
    message: `Read and checked for its unit, but no result of ${tag} uses it yet: ${unused.join(', ')}.`,
  });
}

/** The practice that the plant follows; where it follows none, one made of the customary values. */
function practiceOf(site: Component, lowerer: Lowerer): Component {
  const kind = kindByName.get('practice')!;
  const follows = site.facts.get('follows')?.value;
  const found = follows?.type === 'word' ? find(lowerer.root, follows.word.split('.'), s => s.practices) : undefined;
  if (found !== undefined) {
    const component = makeComponent(found.scope, found.found, kind, lowerer);
    return { ...component, tag: follows?.type === 'word' ? follows.word : component.tag };
  }
  return {
    tag: 'practice',
    kind,
    place: site.place,
    whole: site.whole,
    insertAt: undefined,
    basePlace: undefined,
    facts: withFallbacks(kind, { facts: new Map(), failed: new Set() }),
    failed: new Set(),
    implied: true,
  };
}

function lowerConnections(
  components: readonly Component[],
  byTag: ReadonlyMap<string, Component>,
  lowerer: Lowerer,
): Topology {
  const nodes = new Map<string, ConnectedNode>();
  for (const { tag, kind, place } of components)
    if (kind.role !== 'none') nodes.set(tag, { tag, kind: kind.name, place });
  const chains: ChainLink[][] = [];
  let connected = false;
  for (const placed of lowerer.root.declarations) {
    if (placed.node.type !== 'connect') continue;
    connected = true;
    const links: ChainLink[] = [];
    for (const name of placed.node.chain) {
      const place = placeOf(placed, name);
      if (nodes.has(name.text)) links.push({ tag: name.text, place });
      else reportBadLink(name.text, place, byTag, nodes, lowerer);
    }
    chains.push(links);
  }
  if (!connected) chains.push(...impliedChain(nodes, lowerer));
  return buildTopology(nodes, chains, lowerer.report);
}

function reportBadLink(
  tag: string,
  place: Place,
  byTag: ReadonlyMap<string, Component>,
  nodes: ReadonlyMap<string, ConnectedNode>,
  lowerer: Lowerer,
): void {
  const other = byTag.get(tag);
  if (other !== undefined) {
    lowerer.report.add({
      code: 'wrong_value',
      place,
      message: `${tag} is a ${other.kind.name}, which is no part of the one-line.`,
    });
    return;
  }
  const near = nearest(tag, nodes.keys());
  lowerer.report.add({
    code: 'unknown_name',
    place,
    message: `There is no component \`${tag}\`${near === undefined ? '.' : `: did you mean \`${near}\`?`}`,
    fixes: near === undefined ? [] : [{ title: `Change to \`${near}\``, safe: true, edits: [{ place, text: near }] }],
  });
}

const customaryOrder = ['grid', 'transformer', 'filter', 'converter', 'battery'] as const;

/** Without any `connect`, a plant with at most one of each is taken in the customary order, visibly. */
function impliedChain(nodes: ReadonlyMap<string, ConnectedNode>, lowerer: Lowerer): ChainLink[][] {
  const chain: ChainLink[] = [];
  for (const kind of customaryOrder) {
    const those = [...nodes.values()].filter(node => node.kind === kind);
    if (those.length > 1) return [];
    if (those[0] !== undefined) chain.push(those[0]);
  }
  const kinds = new Set(chain.map(link => nodes.get(link.tag)!.kind));
  if (!kinds.has('grid') || !kinds.has('converter') || !kinds.has('battery')) return [];
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
  return [chain];
}

function lowerDemands(
  lowerer: Lowerer,
  byTag: ReadonlyMap<string, Component>,
): { requirements: Requirement[]; acceptances: Acceptance[] } {
  const requirements: Requirement[] = [];
  const acceptances: Acceptance[] = [];
  for (const placed of lowerer.root.declarations) {
    if (placed.node.type === 'require') {
      const requirement = lowerRequirement({ ...placed, node: placed.node }, byTag, lowerer);
      if (requirement !== undefined) requirements.push(requirement);
    }
    if (placed.node.type === 'accept') {
      const acceptance = lowerAcceptance({ ...placed, node: placed.node }, byTag, lowerer);
      if (acceptance !== undefined) acceptances.push(acceptance);
    }
  }
  return { requirements, acceptances };
}
