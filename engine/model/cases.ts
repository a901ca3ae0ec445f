// Cases: which facts each one restates, all read from the base values at once.
import type { CaseDeclaration, Name, Property as PropertyNode } from '../../grammar/ast.ts';
import { lowerProperty, reportUnknownProperty } from './facts.ts';
import type { Lowerer } from './lowerer.ts';
import { nearest } from './nearest.ts';
import type { Case, Component, Fact } from './plant.ts';
import { type Placed, placeOf } from './scope.ts';

type CaseFacts = Map<string, Map<string, Fact>>;

/** The base case, then the others in the order of the text. */
export function lowerCases(lowerer: Lowerer, byTag: ReadonlyMap<string, Component>): readonly Case[] {
  const declared = new Map<string, Placed<CaseDeclaration>>();
  for (const placed of lowerer.root.declarations) {
    const name = placed.node.type === 'case' ? placed.node.name?.text : undefined;
    if (placed.node.type === 'case' && name !== undefined && !declared.has(name))
      declared.set(name, { ...placed, node: placed.node });
  }
  const done = new Map<string, CaseFacts>();
  const cases: Case[] = [{ name: '', place: undefined, facts: new Map() }];
  for (const [name, placed] of declared) {
    cases.push({
      name,
      place: placeOf(placed, placed.node.name!),
      facts: combine(name, declared, done, [], lowerer, byTag),
    });
  }
  return cases;
}

function combine(
  name: string,
  declared: ReadonlyMap<string, Placed<CaseDeclaration>>,
  done: Map<string, CaseFacts>,
  underWay: readonly string[],
  lowerer: Lowerer,
  byTag: ReadonlyMap<string, Component>,
): CaseFacts {
  const known = done.get(name);
  if (known !== undefined) return known;
  const placed = declared.get(name)!;
  const facts: CaseFacts = new Map();
  const from = new Map<string, string>();
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
    take(combine(base.text, declared, done, [...underWay, name], lowerer, byTag), facts, from, placed, base, lowerer);
  }
  for (const [tag, restated] of ownFacts(placed, lowerer, byTag)) {
    const target = facts.get(tag) ?? new Map<string, Fact>();
    facts.set(tag, target);
    for (const [property, fact] of restated) target.set(property, fact);
  }
  done.set(name, facts);
  return facts;
}

/** Takes over the facts of a base case; two bases that restate one fact differently contradict each other. */
function take(
  base: CaseFacts,
  facts: CaseFacts,
  from: Map<string, string>,
  placed: Placed<CaseDeclaration>,
  name: Name,
  lowerer: Lowerer,
): void {
  for (const [tag, restated] of base) {
    const target = facts.get(tag) ?? new Map<string, Fact>();
    facts.set(tag, target);
    for (const [property, fact] of restated) {
      const earlier = target.get(property);
      if (earlier !== undefined && earlier !== fact) {
        lowerer.report.add({
          code: 'duplicate',
          place: placeOf(placed, name),
          message: `\`${from.get(`${tag}.${property}`)}\` and \`${name.text}\` both restate \`${tag}.${property}\`; restate it here, or leave one of them out.`,
        });
        continue;
      }
      target.set(property, fact);
      from.set(`${tag}.${property}`, name.text);
    }
  }
}

function ownFacts(placed: Placed<CaseDeclaration>, lowerer: Lowerer, byTag: ReadonlyMap<string, Component>): CaseFacts {
  const facts: CaseFacts = new Map();
  const context = lowerer.context(lowerer.root, placed, false);
  for (const node of placed.node.properties) {
    const component = restatedComponent(placed, node, lowerer, byTag);
    const name = node.target[1];
    if (component === undefined || name === undefined) continue;
    const property = component.kind.properties.find(candidate => candidate.name === name.text);
    if (property === undefined || node.target.length > 2) {
      reportUnknownProperty({ ...node, target: node.target.slice(1) }, component.kind, context);
      continue;
    }
    if (node.value?.type === 'pick') {
      lowerer.report.add({
        code: 'wrong_value',
        place: context.place(node.value),
        message: 'A case restates facts; a choice is made once for all cases.',
      });
      continue;
    }
    const target = facts.get(component.tag) ?? new Map<string, Fact>();
    facts.set(component.tag, target);
    if (target.has(property.name)) {
      lowerer.report.add({
        code: 'duplicate',
        place: context.place(node),
        message: `\`${component.tag}.${property.name}\` is restated twice in this case; the first one counts.`,
      });
      continue;
    }
    const fact = lowerProperty(node, property, context);
    if (fact !== undefined) target.set(property.name, fact);
  }
  return facts;
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
  const near = nearest(tag.text, byTag.keys());
  lowerer.report.add({
    code: component === undefined ? 'unknown_name' : 'wrong_value',
    place: placeOf(placed, tag),
    message:
      node.target.length === 1
        ? `A case restates facts of components: write the tag in front, such as \`B1.${tag.text} = …\`.`
        : `There is no component \`${tag.text}\`${near === undefined ? '.' : `: did you mean \`${near}\`?`}`,
  });
  return undefined;
}

function reportUnknownCase(
  placed: Placed<CaseDeclaration>,
  base: Name,
  declared: ReadonlyMap<string, unknown>,
  lowerer: Lowerer,
): void {
  const near = nearest(base.text, declared.keys());
  lowerer.report.add({
    code: 'unknown_name',
    place: placeOf(placed, base),
    message: `There is no case \`${base.text}\`${near === undefined ? '.' : `: did you mean \`${near}\`?`}`,
  });
}
