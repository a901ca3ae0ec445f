// What a name in an expression means: a let, a fact of a component, in a requirement also a result.

import type { EntityDeclaration, Expression, Name, Span } from '../../grammar/ast.ts';
import type { Code } from '../checks/codes.ts';
import { kindByName, propertyOf } from '../kinds/index.ts';
import type { Kind, KindName, Property } from '../kinds/kind.ts';
import type { Dimension } from '../units/dimension.ts';
import { type Evaluated, spreadNumber } from './evaluated.ts';
import { asEvaluated } from './fact-evaluation.ts';
import { fallbackFact } from './facts.ts';
import type { Lowerer } from './lowerer.ts';
import { describeName, namesIn, reportUnknown } from './names.ts';
import { nearest } from './nearest.ts';
import type { Fact } from './plant.ts';
import { replaceFix } from './report.ts';
import { type FileScope, find, type Placed, placeOf } from './scope.ts';

/** The results of each kind, for requirements. */
export interface KnownResults {
  readonly dimension: (kind: KindName, name: string) => Dimension | undefined;
  readonly names: (kind: KindName) => readonly string[];
  /** Whether a finding of this code may be a hazard: what could hurt someone is mended, not agreed to. */
  readonly isHazard: (code: Code) => boolean;
}

/** What `TAG.name` may mean beyond a fact. */
export type NameUse = 'fact' | 'requirement';

/** Where a name stands. */
export interface Standpoint {
  readonly scope: FileScope;
  readonly placed: Placed<unknown>;
  readonly lowerer: Lowerer;
}

/** The value behind a name; undefined, after a finding, where there is none. */
export function lookUp(at: Standpoint, path: readonly Name[], span: Span, use: NameUse): Evaluated | undefined {
  const { scope, lowerer } = at;
  const words = path.map(name => name.text);
  const found = find(scope, words, s => s.lets);
  if (found !== undefined && found.rest.length === 0) return lowerer.letValue(found.scope, found.found);
  const entity = scope.entities.get(words[0]!) ?? scope.practices.get(words[0]!);
  if (entity !== undefined && words.length === 2) return entityValue(at, entity, path[1]!, use);
  reportNoValue(at, entity, words, span);
  return undefined;
}

function reportNoValue(
  { scope, placed, lowerer }: Standpoint,
  entity: Placed<EntityDeclaration> | undefined,
  words: readonly string[],
  span: Span,
): void {
  const place = placeOf(placed, span);
  const written = words.join('.');
  const what = describeName(scope, words) ?? (entity === undefined ? undefined : `a ${entity.node.kind.text}`);
  if (what !== undefined) {
    const property = kindByName
      .get(entity?.node.kind.text ?? '')
      ?.properties.find(({ type }) => type.is === 'quantity');
    const example =
      property === undefined ? '' : `; a number is one of its facts, such as \`${words[0]}.${property.name}\``;
    const message =
      words.length > 2 ? `\`${written}\` goes too deep: \`${words[0]}\` is ${what}` : `\`${written}\` is ${what}`;
    lowerer.report.add({ code: 'wrong_value', place, message: `${message}${example || ', not a number'}.` });
    return;
  }
  reportUnknown(lowerer.report, {
    scope,
    path: words,
    place,
    message: `Nothing here is named \`${written}\``,
    candidates: [...namesIn(scope, s => s.lets), ...otherTags(scope, words)],
    canBeUsed: true,
  });
}

/** `T2.voltage`, where T2 is unknown and T1 stands near: the same fact of that one. */
function otherTags(scope: FileScope, words: readonly string[]): readonly string[] {
  if (words.length !== 2) return [];
  const near = nearest(words[0]!, scope.entities.keys());
  return near === undefined ? [] : [`${near}.${words[1]}`];
}

function entityValue(
  at: Standpoint,
  entity: Placed<EntityDeclaration>,
  name: Name,
  use: NameUse,
): Evaluated | undefined {
  const { placed, lowerer } = at;
  const kind = kindByName.get(entity.node.kind.text);
  if (kind === undefined) return undefined;
  const tag = entity.node.name!.text;
  const property = propertyOf(kind, name.text);
  if (property !== undefined) return factValue(at, entity, kind, property, name);
  const dimension = lowerer.results.dimension(kind.name, name.text);
  const place = placeOf(placed, name);
  if (dimension !== undefined && use === 'requirement') return asVariable(entity.node, tag, name.text, dimension);
  if (dimension !== undefined) {
    const message = `\`${tag}.${name.text}\` is a result; facts are made from facts, and results are read in \`require\` only.`;
    lowerer.report.add({ code: 'wrong_value', place, message });
    return undefined;
  }
  const results = use === 'requirement' ? lowerer.results.names(kind.name) : [];
  const near = nearest(name.text, [...kind.properties.map(candidate => candidate.name), ...results]);
  lowerer.report.add({
    code: 'unknown_property',
    place,
    message: `${tag}, a ${kind.name}, has no \`${name.text}\`${near === undefined ? '.' : `: did you mean \`${near}\`?`}`,
    fixes: near === undefined ? [] : [replaceFix(place, near)],
  });
  return undefined;
}

/** Results in requirements, by the declaration of their component: told the same again, what was made of them serves again. */
const resultsAsked = new WeakMap<EntityDeclaration, Map<string, Evaluated>>();

function asVariable(node: EntityDeclaration, tag: string, name: string, dimension: Dimension): Evaluated {
  const asked = resultsAsked.get(node) ?? new Map<string, Evaluated>();
  resultsAsked.set(node, asked);
  const known = asked.get(name);
  if (known !== undefined) return known;
  const made = spreadNumber(
    { form: 'range', low: 1, nominal: 1, high: 1, result: { tag, name } },
    dimension,
    undefined,
  );
  asked.set(name, made);
  return made;
}

function factValue(
  { scope, placed, lowerer }: Standpoint,
  entity: Placed<EntityDeclaration>,
  kind: Kind,
  property: Property,
  name: Name,
): Evaluated | undefined {
  const tag = entity.node.name!.text;
  const place = placeOf(placed, name);
  if (property.type.is !== 'quantity') {
    lowerer.report.add({ code: 'wrong_value', place, message: `\`${tag}.${property.name}\` is a word, not a number.` });
    return undefined;
  }
  const own = entity.node.properties.find(node => node.target.length === 1 && node.target[0]!.text === property.name);
  if (own !== undefined) {
    const fact = lowerer.property(own, property, lowerer.context(scope, entity, false));
    return fact === undefined ? undefined : asEvaluated(fact);
  }
  const { facts, failed } = inherited(scope, entity, kind, property, lowerer);
  if (facts !== undefined) return asEvaluated(facts);
  if (!failed) lowerer.report.add({ code: 'unknown_name', place, message: `${tag} states no \`${property.name}\`.` });
  return undefined;
}

/** What a component has without stating it: from its part, or from the tool. */
function inherited(
  scope: FileScope,
  entity: Placed<EntityDeclaration>,
  kind: Kind,
  property: Property,
  lowerer: Lowerer,
): { readonly facts: Fact | undefined; readonly failed: boolean } {
  const template = lowerer.template(scope, entity, kind);
  const lowered = template === undefined ? undefined : lowerer.templateFacts(template, kind);
  const facts = lowered?.facts.get(property.name);
  const absent = entity.node.base !== undefined && template === undefined;
  const failed = absent || lowered?.failed.has(property.name) === true || entity.flawed;
  return { facts: facts ?? (failed ? undefined : fallbackFact(property)), failed };
}

/** The component or practice that a property names; undefined, after a finding, where it names none. */
export function lookUpReference(at: Standpoint, expression: Expression, property: Property): string | undefined {
  const { scope, placed, lowerer } = at;
  const kinds: readonly string[] = property.type.is === 'reference' ? property.type.kinds : [];
  const words = expression.type === 'reference' ? expression.path.map(name => name.text) : [];
  const place = placeOf(placed, expression);
  const wantsPractice = kinds.includes('practice');
  const fits = wantsPractice
    ? words.length > 0 && find(scope, words, s => s.practices)?.rest.length === 0
    : words.length === 1 && kinds.includes(scope.entities.get(words[0]!)?.node.kind.text ?? '');
  if (fits) return words.join('.');
  const wanted = wantsPractice ? 'a practice' : `one of ${kinds.join(', ')}`;
  const is = words.length === 0 ? undefined : describeName(scope, words);
  if (is !== undefined || words.length === 0) {
    const what = is === undefined ? '' : `\`${words.join('.')}\` is ${is}; `;
    const message = `${what}\`${property.name}\` names ${wanted}, such as \`${property.example}\`.`;
    lowerer.report.add({ code: 'wrong_value', place, message });
    return undefined;
  }
  reportUnknown(lowerer.report, {
    scope,
    path: words,
    place,
    message: `Nothing here is named \`${words.join('.')}\`; \`${property.name}\` names ${wanted}`,
    candidates: wantsPractice
      ? namesIn(scope, s => s.practices)
      : [...scope.entities].filter(([, { node }]) => kinds.includes(node.kind.text)).map(([tag]) => tag),
    canBeUsed: wantsPractice,
  });
  return undefined;
}
