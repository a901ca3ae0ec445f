// Where names stand in a declaration, each with the rule by which the language looks it up.
import { kindByName, propertyOf } from '../../engine/kinds/index.ts';
import type {
  CaseDeclaration,
  Declaration,
  EntityDeclaration,
  Expression,
  Name,
  Property,
  ReferenceExpression,
} from '../../grammar/ast.ts';
import { childrenOf } from './locate.ts';

export type Rule =
  /** Behind `is`: a part, or a catalogue and its row. */
  | 'template'
  /** Behind `follows`. */
  | 'practice'
  /** A let, or a fact (in a requirement also a result) of a component. */
  | 'value'
  /** A component or duty alone. */
  | 'tag'
  | 'case';

/** Spans count from the start of the declaration's chunk. */
export interface NameSite {
  readonly names: readonly Name[];
  readonly rule: Rule;
  /** Set where the name is given a new value: `B1.temperature = …` in a case. */
  readonly restates?: true;
}

/** `kindOf` tells the kind of a tag: in a case it decides what a property wants. */
export function nameSites(declaration: Declaration, kindOf: (tag: string) => string | undefined): readonly NameSite[] {
  switch (declaration.type) {
    case 'entity':
      return entitySites(declaration);
    case 'catalogue':
      return declaration.rows.flatMap(row => propertySites(row.properties, declaration.kind?.text));
    case 'connect':
      return declaration.chain.map(tagSite);
    case 'case':
      return caseSites(declaration, kindOf);
    case 'let':
      return valueSites(declaration.value);
    case 'require':
      return [...valueSites(declaration.condition), ...optional(declaration.during).map(tagSite)];
    case 'accept':
      return [...optional(declaration.tag).map(tagSite), ...valueSites(declaration.bound)];
    case 'use':
      return [];
  }
}

function entitySites({ base, kind, properties }: EntityDeclaration): readonly NameSite[] {
  const template: readonly NameSite[] =
    base === undefined || base.path.length === 0 ? [] : [{ names: base.path, rule: 'template' }];
  return [...template, ...propertySites(properties, kind.text)];
}

function propertySites(properties: readonly Property[], kind: string | undefined): readonly NameSite[] {
  return properties.flatMap(property => valuesOf(property, kind, property.target[0]?.text));
}

function caseSites(
  { bases, properties }: CaseDeclaration,
  kindOf: (tag: string) => string | undefined,
): readonly NameSite[] {
  const restated = properties.flatMap((property): readonly NameSite[] => {
    const [tag, name] = property.target;
    if (tag === undefined) return [];
    const target: NameSite = { names: property.target, rule: 'value', restates: true };
    return [target, ...valuesOf(property, kindOf(tag.text), name?.text)];
  });
  return [...bases.map((name): NameSite => ({ names: [name], rule: 'case' })), ...restated];
}

/** What a property's value looks up: a choice never does, a reference does so in its own way. */
function valuesOf(property: Property, kindName: string | undefined, name: string | undefined): readonly NameSite[] {
  const kind = kindByName.get(kindName ?? '');
  const type = kind === undefined || name === undefined ? undefined : propertyOf(kind, name)?.type;
  if (type?.is === 'choice' || type?.is === 'text') return [];
  if (type?.is === 'reference') {
    const rule: Rule = type.kinds.includes('practice') ? 'practice' : 'tag';
    return property.value?.type === 'reference' ? [{ names: property.value.path, rule }] : [];
  }
  return [property.value, ...property.clauses.map(clause => clause.value)].flatMap(valueSites);
}

function valueSites(expression: Expression | undefined): readonly NameSite[] {
  return referencesIn(expression).map(({ path }): NameSite => ({ names: path, rule: 'value' }));
}

export function referencesIn(expression: Expression | undefined): readonly ReferenceExpression[] {
  if (expression === undefined) return [];
  return expression.type === 'reference' ? [expression] : childrenOf(expression).flatMap(referencesIn);
}

function tagSite(name: Name): NameSite {
  return { names: [name], rule: 'tag' };
}

function optional<T>(value: T | undefined): readonly T[] {
  return value === undefined ? [] : [value];
}
