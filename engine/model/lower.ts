// A file's scope to a plant: components with all their facts, cases, connections, requirements and acceptances.
import type { CatalogueDeclaration, EntityDeclaration } from '../../grammar/ast.ts';
import type { Place } from '../finding.ts';
import { kindByName } from '../kinds/index.ts';
import type { Kind } from '../kinds/kind.ts';
import { lowerCases } from './cases.ts';
import { chemistryFacts } from './chemistry-facts.ts';
import { lowerConnections } from './connections.ts';
import { lowerAcceptance, lowerRequirement, reportSameNames } from './demands.ts';
import { fallbackFact, type LoweredFacts, originOf } from './facts.ts';
import type { Lowerer } from './lowerer.ts';
import { movedComponent } from './moved.ts';
import type { Acceptance, Component, Fact, Plant, Requirement } from './plant.ts';
import { type FileScope, find, type Placed, placeOf } from './scope.ts';
import { WatchedFacts } from './watched-facts.ts';

/** The plant of the root file; undefined where the file holds none. Everything in it is looked at either way. */
export function lowerPlant(lowerer: Lowerer): Plant | undefined {
  const scope = lowerer.root;
  for (const file of lowerer.files) validateDeclarations(file, lowerer);
  const head = plantHead(scope, lowerer);
  const site = head === undefined ? impliedSite(scope) : makeComponent(scope, head, kindByName.get('plant')!, lowerer);
  if (site === undefined) return undefined;

  const components: Component[] = head === undefined ? [site] : [];
  for (const placed of scope.entities.values()) {
    const kind = kindByName.get(placed.node.kind.text);
    if (kind === undefined) continue;
    if (kind.name !== 'plant') components.push(makeComponent(scope, placed, kind, lowerer));
    else if (placed.node === head?.node) components.push(site);
  }
  const practice = practiceOf(site, lowerer);
  components.push(practice);
  const byTag = new Map(components.map(component => [component.tag, component]));
  reportNoDuty(site, components, lowerer);
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
    topology: lowerConnections(site, components, byTag, lowerer),
    requirements,
    acceptances,
  };
}

/** Without a duty no current is known: said once, where there is a converter that could have one. */
function reportNoDuty(site: Component, components: readonly Component[], lowerer: Lowerer): void {
  const has = (kind: string): boolean => components.some(component => component.kind.name === kind);
  if (has('duty') || !has('converter') || lowerer.hasUnreadText) return;
  lowerer.report.add({
    code: 'not_checked',
    severity: 'note',
    place: site.place,
    subject: site.tag,
    message:
      'No `duty` says what the plant has to do, such as `duty start_peak { discharge = 400 kW for 45 min }`: currents, loadings and times stay unknown, and unchecked.',
  });
}

/** Evaluates what stands in a file for its own sake, so that a mistake shows even where nobody uses it. */
function validateDeclarations(scope: FileScope, lowerer: Lowerer): void {
  for (const placed of scope.lets.values()) lowerer.letValue(scope, placed);
  for (const placed of [...scope.parts.values(), ...scope.practices.values(), ...scope.entities.values()]) {
    const kind = kindByName.get(placed.node.kind.text);
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
    reportTwinRows(placed, lowerer);
    const kind = kindByName.get(node.kind?.text ?? '');
    if (kind !== undefined)
      for (const row of node.rows) lowerer.templateFacts({ type: 'row', scope, catalogue: placed, row }, kind);
  }
}

function reportTwinRows(placed: Placed<CatalogueDeclaration>, lowerer: Lowerer): void {
  const first = new Map<string, Place>();
  for (const { name } of placed.node.rows) {
    const place = placeOf(placed, name);
    const earlier = first.get(name.text);
    if (earlier === undefined) first.set(name.text, place);
    else
      lowerer.report.add({
        code: 'duplicate',
        place,
        message: `This catalogue has a row \`${name.text}\` already; the first one counts.`,
        related: [{ place: earlier, message: 'It stands here first.' }],
      });
  }
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
  if (component !== undefined && !lowerer.hasUnreadText) {
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

/** Components without a plant are judged as they stand; undefined where there are none, as in a file of parts. */
function impliedSite(scope: FileScope): Component | undefined {
  const first = [...scope.entities.values()].find(placed => kindByName.has(placed.node.kind.text));
  if (first === undefined) return undefined;
  const place = placeOf(first, first.node.name ?? first.node.kind);
  return impliedComponent('plant', kindByName.get('plant')!, { place, whole: place });
}

function impliedComponent(tag: string, kind: Kind, { place, whole }: Pick<Component, 'place' | 'whole'>): Component {
  return {
    tag,
    kind,
    place,
    whole,
    insertAt: undefined,
    basePlace: undefined,
    facts: new WatchedFacts(tag, withFallbacks(kind, { facts: new Map(), failed: new Set() })),
    failed: new Set(),
    implied: true,
  };
}

function makeComponent(
  scope: FileScope,
  placed: Placed<EntityDeclaration>,
  kind: Kind,
  lowerer: Lowerer,
  tag = placed.node.name!.text,
): Component {
  const { node } = placed;
  const lowered = lowerer.entity(scope, placed, kind);
  const known = kept.get(originOf(lowered));
  // A practice may go by another name where it is followed.
  if (known?.component.tag === tag) {
    if (known.lowered === lowered) return known.component;
    const component = movedComponent(
      known.component,
      lowered,
      placeOf(placed, node).start - known.component.whole.start,
    );
    kept.set(originOf(lowered), { lowered, component });
    return component;
  }
  const { said } = lowerer.report;
  reportNotEvaluated(placed, kind, lowered, lowerer);
  const component: Component = {
    tag,
    kind,
    place: placeOf(placed, node.name!),
    whole: placeOf(placed, node),
    insertAt: node.block === undefined ? undefined : insertionPlace(placed, lowerer),
    basePlace: node.base === undefined ? undefined : placeOf(placed, node.base),
    facts: new WatchedFacts(tag, withFallbacks(kind, lowered)),
    failed: lowered.failed,
    implied: false,
  };
  if (lowerer.report.said === said) kept.set(originOf(lowered), { lowered, component });
  return component;
}

/** By the origin of its facts. They are the same object only for a declaration that stands where it stood. */
const kept = new WeakMap<LoweredFacts, { readonly lowered: LoweredFacts; readonly component: Component }>();

/** Just before the closing brace, on a line of its own where the block has several lines. */
function insertionPlace(placed: Placed<EntityDeclaration>, lowerer: Lowerer): Place {
  const block = placeOf(placed, placed.node.block!);
  const text = lowerer.text(block);
  const inner = text.endsWith('}') ? text.slice(0, -1).trimEnd() : text.trimEnd();
  return { path: block.path, start: block.start + inner.length, end: block.start + inner.length };
}

function withFallbacks(kind: Kind, lowered: LoweredFacts): Map<string, Fact> {
  const facts = new Map(lowered.facts);
  for (const property of kind.properties) {
    if (facts.has(property.name)) continue;
    // A limit that was not understood is judged by the customary one: what is dangerous stays a finding.
    if (lowered.failed.has(property.name) && kind.name !== 'practice') continue;
    const fact = fallbackFact(property);
    if (fact !== undefined) facts.set(property.name, fact);
  }
  for (const fact of chemistryFacts(kind, lowered)) facts.set(fact.property.name, fact);
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
    .filter(fact => !fact.inherited)
    .flatMap(({ property, value }) => {
      if (property.notEvaluated === true) return [`\`${property.name}\``];
      const open = property.type.is === 'choice' ? (property.type.notEvaluated ?? []) : [];
      return value.type === 'word' && open.includes(value.word) ? [`\`${property.name} = ${value.word}\``] : [];
    });
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
    return makeComponent(found.scope, found.found, kind, lowerer, follows?.type === 'word' ? follows.word : undefined);
  }
  return impliedComponent('practice', kind, site);
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
  reportSameNames(
    lowerer.root.declarations.flatMap(placed =>
      placed.node.type === 'require' ? [{ ...placed, node: placed.node }] : [],
    ),
    lowerer,
  );
  return { requirements, acceptances };
}
