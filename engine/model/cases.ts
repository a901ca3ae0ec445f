// Cases: which facts each one restates, all read from the base values at once.
import type { CaseDeclaration, Name, Property as PropertyNode } from '../../grammar/ast.ts';
import { propertyOf } from '../kinds/index.ts';
import type { Kind } from '../kinds/kind.ts';
import {
  askedPaths,
  type FactContext,
  hasSugar,
  type LoweredFacts,
  reportUnknownProperty,
  spreadSugar,
} from './facts.ts';
import type { Asking } from './kept-entities.ts';
import type { Lowerer } from './lowerer.ts';
import { movedFact } from './moved.ts';
import { reportUnknown } from './names.ts';
import { type Case, type Component, type Fact, sameValue } from './plant.ts';
import { type Placed, placeOf } from './scope.ts';
import { WatchedFacts } from './watched-facts.ts';

/** What a case restates, by tag and property; undefined where it could not be understood. */
type Restated = Map<string, Map<string, Fact | undefined>>;

/** Cases made from cases are followed this far: what needs more is no plant, and would exhaust the stack. */
const deepest = 100;

/** The base case, then the others in the order of the text. */
export function lowerCases(lowerer: Lowerer, byTag: ReadonlyMap<string, Component>): readonly Case[] {
  const declared = new Map<string, Placed<CaseDeclaration>>();
  for (const placed of lowerer.root.declarations) {
    const name = placed.node.type === 'case' ? placed.node.name?.text : undefined;
    if (placed.node.type === 'case' && name !== undefined && !declared.has(name))
      declared.set(name, { ...placed, node: placed.node });
  }
  const done = new Map<string, Restated>();
  const cases: Case[] = [{ name: '', place: undefined, facts: new Map(), failed: new Map() }];
  for (const [name, placed] of declared) {
    const restated = combine(name, declared, done, [], lowerer, byTag);
    cases.push({ name, place: placeOf(placed, placed.node.name!), ...understood(restated) });
  }
  return cases;
}

type Understood = Pick<Case, 'facts' | 'failed'>;

/** Texts in which a case restates the same share it. */
const understoodOf = new WeakMap<Restated, Understood>();

function understood(restated: Restated): Understood {
  const known = understoodOf.get(restated) ?? sortOut(restated);
  understoodOf.set(restated, known);
  return known;
}

/** `before`: of what says the same. */
function sortOut(restated: Restated, before?: Understood): Understood {
  const facts = new Map<string, ReadonlyMap<string, Fact>>();
  const failed = new Map<string, Set<string>>();
  for (const [tag, properties] of restated) {
    if (isUnderstood(properties)) {
      facts.set(tag, new WatchedFacts(tag, properties, before?.facts.get(tag)));
      continue;
    }
    const known = new Map<string, Fact>();
    const unknown = new Set<string>();
    for (const [name, fact] of properties) {
      if (fact === undefined) unknown.add(name);
      else known.set(name, fact);
    }
    if (known.size > 0) facts.set(tag, new WatchedFacts(tag, known, before?.facts.get(tag)));
    if (unknown.size > 0) failed.set(tag, unknown);
  }
  return { facts, failed };
}

function isUnderstood(properties: ReadonlyMap<string, Fact | undefined>): properties is Map<string, Fact> {
  for (const fact of properties.values()) if (fact === undefined) return false;
  return true;
}

function combine(
  name: string,
  declared: ReadonlyMap<string, Placed<CaseDeclaration>>,
  done: Map<string, Restated>,
  underWay: readonly string[],
  lowerer: Lowerer,
  byTag: ReadonlyMap<string, Component>,
): Restated {
  const known = done.get(name);
  if (known !== undefined) return known;
  const placed = declared.get(name)!;
  const own = ownFacts(placed, lowerer, byTag);
  if (placed.node.bases.length === 0) {
    done.set(name, own);
    return own;
  }
  const { said } = lowerer.report;
  const bases: Restated[] = [];
  const names: Name[] = [];
  for (const base of placed.node.bases) {
    if (!declared.has(base.text)) {
      reportUnknownCase(placed, base, declared, lowerer);
      continue;
    }
    if ([...underWay, name].includes(base.text)) {
      lowerer.report.add({
        code: 'cycle',
        place: placeOf(placed, base),
        message: `The case \`${base.text}\` is made from itself, in a circle.`,
      });
      continue;
    }
    if (underWay.length >= deepest) {
      const message = `This leads through more than ${deepest} cases, each made from the next.`;
      lowerer.report.add({ code: 'wrong_value', place: placeOf(placed, base), message });
      continue;
    }
    bases.push(combine(base.text, declared, done, [...underWay, name], lowerer, byTag));
    names.push(base);
  }
  const before = combined.get(placed.node);
  const holds = before?.own === own && sameBases(before.bases, bases);
  const facts = holds ? before.facts : putTogether(own, bases, names, placed, lowerer);
  if (lowerer.report.said === said) combined.set(placed.node, { own, bases, facts });
  done.set(name, facts);
  return facts;
}

/** What a case was put together of without fault. */
interface Combined {
  readonly own: Restated;
  readonly bases: readonly Restated[];
  readonly facts: Restated;
}

const combined = new WeakMap<CaseDeclaration, Combined>();

function sameBases(some: readonly Restated[], others: readonly Restated[]): boolean {
  return some.length === others.length && some.every((base, index) => base === others[index]);
}

/** What the case says itself counts; of its bases, called by these names, those that contradict each other are reported. */
function putTogether(
  own: Restated,
  bases: readonly Restated[],
  names: readonly Name[],
  placed: Placed<CaseDeclaration>,
  { report }: Lowerer,
): Restated {
  const facts: Restated = new Map();
  const from = new Map<string, string>();
  for (const [index, base] of bases.entries()) {
    const name = names[index]!;
    for (const { tag, property, message } of take(base, facts, from, name.text))
      if (own.get(tag)?.has(property) !== true)
        report.add({ code: 'duplicate', place: placeOf(placed, name), message });
  }
  for (const [tag, restated] of own) {
    const target = facts.get(tag) ?? new Map<string, Fact | undefined>();
    facts.set(tag, target);
    for (const [property, fact] of restated) target.set(property, fact);
  }
  return facts;
}

interface Contradiction {
  readonly tag: string;
  readonly property: string;
  readonly message: string;
}

/** Takes over the facts of a base case; two bases that restate one fact differently contradict each other. */
function take(base: Restated, facts: Restated, from: Map<string, string>, name: string): readonly Contradiction[] {
  const contradictions: Contradiction[] = [];
  for (const [tag, restated] of base) {
    const target = facts.get(tag) ?? new Map<string, Fact | undefined>();
    facts.set(tag, target);
    for (const [property, fact] of restated) {
      const earlier = target.get(property);
      if (earlier !== undefined && fact !== undefined && !sameValue(earlier.value, fact.value)) {
        const path = `${tag}.${property}`;
        const message = `\`${from.get(path)}\` and \`${name}\` both restate \`${path}\`; restate it here, or leave one of them out.`;
        contradictions.push({ tag, property, message });
        continue;
      }
      target.set(property, fact);
      from.set(`${tag}.${property}`, name);
    }
  }
  return contradictions;
}

/** What a declaration without fault restates, and what that rests on. */
interface KeptCase {
  readonly path: string;
  readonly start: number;
  readonly kinds: readonly (readonly [tag: string, kind: Kind])[];
  readonly asking: readonly Asking[];
  /** The facts of the components that these ask for; undefined where they ask for something else too. */
  readonly rests: ReadonlyMap<string, LoweredFacts> | undefined;
  readonly facts: Restated;
}

const kept = new WeakMap<CaseDeclaration, KeptCase>();

function ownFacts(placed: Placed<CaseDeclaration>, lowerer: Lowerer, byTag: ReadonlyMap<string, Component>): Restated {
  const known = again(placed, lowerer, byTag);
  if (known !== undefined) return known;
  const { said } = lowerer.report;
  const facts = restatedIn(placed, lowerer, byTag);
  const { node, path, start, flawed } = placed;
  const asking = lowerer.report.said === said && !flawed ? lowerer.askingAmong(node.properties) : undefined;
  const kinds = [...facts.keys()].map(tag => [tag, byTag.get(tag)!.kind] as const);
  if (asking !== undefined) kept.set(node, { path, start, kinds, asking, rests: restsOf(asking, lowerer), facts });
  return facts;
}

function restsOf(asking: readonly Asking[], lowerer: Lowerer): KeptCase['rests'] {
  const rests = new Map<string, LoweredFacts>();
  for (const { node } of asking) {
    for (const path of askedPaths(node) ?? [[]]) {
      const tag = path.length === 2 ? path[0]!.text : undefined;
      const facts = tag === undefined ? undefined : lowerer.knownFacts(tag);
      if (tag === undefined || facts === undefined) return undefined;
      rests.set(tag, facts);
    }
  }
  return rests;
}

/** Whether all that was asked for says the same, seen from the components alone. */
function stillRests(rests: KeptCase['rests'], lowerer: Lowerer): boolean {
  if (rests === undefined) return false;
  for (const [tag, facts] of rests) if (lowerer.knownFacts(tag) !== facts) return false;
  return true;
}

/** What an earlier analysis made of the declaration, where it would come to the same. */
function again(
  placed: Placed<CaseDeclaration>,
  lowerer: Lowerer,
  byTag: ReadonlyMap<string, Component>,
): Restated | undefined {
  const { node, path, start } = placed;
  const known = kept.get(node);
  if (known?.path !== path) return undefined;
  for (const [tag, kind] of known.kinds) if (byTag.get(tag)?.kind !== kind) return undefined;
  const rests = stillRests(known.rests, lowerer);
  const asking = rests ? known.asking : lowerer.askedAgain(known.asking, lowerer.root, placed);
  if (asking === undefined) return undefined;
  const same = start === known.start && asking === known.asking;
  if (same && (rests || known.rests === undefined)) return known.facts;
  const facts = same ? known.facts : moved(known.facts, start - known.start);
  kept.set(node, { ...known, start, asking, rests: restsOf(asking, lowerer), facts });
  return facts;
}

/** The same, said by a declaration that now begins `by` characters later. */
function moved(restated: Restated, by: number): Restated {
  const facts: Restated = new Map();
  for (const [tag, properties] of restated) {
    const target = new Map<string, Fact | undefined>();
    facts.set(tag, target);
    for (const [name, fact] of properties) target.set(name, fact && movedFact(fact, by));
  }
  const before = understoodOf.get(restated);
  if (before !== undefined) understoodOf.set(facts, sortOut(facts, before));
  return facts;
}

function restatedIn(
  placed: Placed<CaseDeclaration>,
  lowerer: Lowerer,
  byTag: ReadonlyMap<string, Component>,
): Restated {
  const context = lowerer.context(lowerer.root, placed, false);
  const facts: Restated = new Map();
  for (const node of placed.node.properties) {
    const component = context.doubtful(node)
      ? byTag.get(node.target[0]?.text ?? '')
      : restatedComponent(placed, node, lowerer, byTag);
    const name = node.target[1];
    if (component === undefined || name === undefined) continue;
    const property = propertyOf(component.kind, name.text);
    if (property === undefined || node.target.length > 2) {
      reportNoFact(node, component, lowerer, context);
      continue;
    }
    if (node.value?.type === 'pick' && !context.doubtful(node)) {
      lowerer.report.add({
        code: 'wrong_value',
        place: context.place(node.value),
        message: 'A case restates facts; a choice is made once for all cases.',
      });
      continue;
    }
    const target = facts.get(component.tag) ?? new Map<string, Fact | undefined>();
    facts.set(component.tag, target);
    if (target.has(property.name)) {
      lowerer.report.add({
        code: 'duplicate',
        place: context.place(node),
        message: `\`${component.tag}.${property.name}\` is restated twice in this case; the first one counts.`,
      });
      continue;
    }
    target.set(property.name, lowerer.property(node, property, context));
  }
  for (const [tag, restated] of facts) spreadCaseSugar(restated, byTag.get(tag)!.kind, context);
  return facts;
}

/** `for` and `every` behind a restated power restate the duration and the repeat with it. */
function spreadCaseSugar(restated: Map<string, Fact | undefined>, kind: Kind, context: FactContext): void {
  if (!hasSugar(kind)) return;
  const known = new Map([...restated].flatMap(([name, fact]) => (fact === undefined ? [] : [[name, fact] as const])));
  spreadSugar(known, kind, context);
  for (const [name, fact] of known) restated.set(name, fact);
}

function reportNoFact(node: PropertyNode, component: Component, lowerer: Lowerer, context: FactContext): void {
  if (context.doubtful(node)) return;
  const [, name, ...rest] = node.target;
  const isResult = lowerer.results.dimension(component.kind.name, name!.text) !== undefined;
  if (!isResult || rest.length > 0) {
    reportUnknownProperty({ ...node, target: node.target.slice(1) }, component.kind, context);
    return;
  }
  lowerer.report.add({
    code: 'wrong_value',
    place: context.place(name!),
    message: `\`${component.tag}.${name!.text}\` is a result; a case restates facts.`,
  });
}

function restatedComponent(
  placed: Placed<CaseDeclaration>,
  node: PropertyNode,
  lowerer: Lowerer,
  byTag: ReadonlyMap<string, Component>,
): Component | undefined {
  const tag = node.target[0];
  if (tag === undefined) return undefined;
  const component = byTag.get(tag.text);
  if (component !== undefined && node.target.length > 1) return component;
  const place = placeOf(placed, tag);
  if (component === undefined && node.target.length > 1) {
    const message = `There is no component \`${tag.text}\``;
    reportUnknown(lowerer.report, {
      scope: lowerer.root,
      path: [tag.text],
      place,
      message,
      candidates: [...byTag.keys()],
      canBeUsed: false,
    });
    return undefined;
  }
  const owner = [...byTag.values()].find(({ kind }) => kind.properties.some(property => property.name === tag.text));
  const example = owner === undefined ? '' : `, such as \`${owner.tag}.${tag.text} = …\``;
  const message = `A case restates facts of components: a fact is written with its tag in front${example}.`;
  lowerer.report.add({ code: 'wrong_value', place, message });
  return undefined;
}

function reportUnknownCase(
  placed: Placed<CaseDeclaration>,
  base: Name,
  declared: ReadonlyMap<string, unknown>,
  lowerer: Lowerer,
): void {
  reportUnknown(lowerer.report, {
    scope: lowerer.root,
    path: [base.text],
    place: placeOf(placed, base),
    message: `There is no case \`${base.text}\``,
    candidates: [...declared.keys()],
    canBeUsed: false,
  });
}
