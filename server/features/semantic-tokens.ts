// Semantic colours: what only the meaning tells; words and numbers are coloured by the grammar of the language.
import type { Analysis } from '../../engine/analysis.ts';
import { kindByName, propertyOf } from '../../engine/kinds/index.ts';
import type { Declaration, Expression, Property, Span } from '../../grammar/ast.ts';
import type { TreeContext } from './context.ts';
import { childrenOf } from './locate.ts';
import { namesIn, type Occurrence, type Sort } from './occurrences.ts';
import { entityByTag } from './symbols.ts';

/** Standard types, so that every theme has a colour for them. */
export const tokenTypes = [
  'namespace',
  'class',
  'enum',
  'enumMember',
  'struct',
  'event',
  'label',
  'variable',
  'property',
  'function',
  'keyword',
] as const;

/** The last five are ours: a fact, a result, a choice left to the tool, something assumed, something dangerous. */
export const tokenModifiers = [
  'declaration',
  'readonly',
  'modification',
  'fact',
  'result',
  'pick',
  'assumed',
  'hazard',
] as const;

export type TokenType = (typeof tokenTypes)[number];
export type TokenModifier = (typeof tokenModifiers)[number];

export interface SemanticToken extends Span {
  readonly type: TokenType;
  readonly modifiers: readonly TokenModifier[];
}

/** The tags and values that hazards speak of: names, so that an analysis of an older text does as well. */
export function dangerousNames(analysis: Analysis | undefined): ReadonlySet<string> {
  const hazards = (analysis?.findings ?? []).filter(({ hazard }) => hazard);
  return new Set(hazards.flatMap(({ subject, value }) => [subject ?? [], value?.name ?? []].flat()));
}

/** In the order of the text, none over another; each stays on its line. */
export function semanticTokens(context: TreeContext, dangerous: ReadonlySet<string>): readonly SemanticToken[] {
  const { path, tree, closure } = context;
  const names = namesIn(closure.snapshot)
    .occurrencesIn(path)
    .flatMap(occurrence => toToken(occurrence, dangerous));
  const words = tree.chunks.flatMap(({ start, chunk: { declaration } }) => {
    return (declaration === undefined ? [] : wordsIn(declaration, context)).map(token => moved(token, start));
  });
  return withoutOverlaps(mergeByPlace([...names, ...words]));
}

const typeOf: Readonly<Record<Exclude<Sort, 'file'>, TokenType>> = {
  plant: 'namespace',
  alias: 'namespace',
  component: 'variable',
  duty: 'event',
  case: 'label',
  practice: 'struct',
  let: 'variable',
  part: 'class',
  catalogue: 'enum',
  row: 'enumMember',
  property: 'property',
  result: 'property',
};

function toToken({ place, named, role }: Occurrence, dangerous: ReadonlySet<string>) {
  if (named.sort === 'file') return [];
  const full = named.owner === undefined ? named.name : `${named.owner.name}.${named.name}`;
  const speaksOfPlant = named.sort === 'result' || (named.sort === 'component' && role === 'declaration');
  const modifiers: TokenModifier[] = [
    ...(role === 'declaration' && named.sort !== 'property' ? (['declaration'] as const) : []),
    ...(role === 'restatement' ? (['modification'] as const) : []),
    ...(named.sort === 'let' || named.sort === 'result' ? (['readonly'] as const) : []),
    ...(named.sort === 'property' ? (['fact'] as const) : []),
    ...(named.sort === 'result' ? (['result'] as const) : []),
    ...(speaksOfPlant && dangerous.has(full) ? (['hazard'] as const) : []),
  ];
  return [{ start: place.start, end: place.end, type: typeOf[named.sort], modifiers }];
}

/** Choices, functions, picks, and the properties whose value is assumed or left to the tool. */
function wordsIn(declaration: Declaration, context: TreeContext): readonly SemanticToken[] {
  switch (declaration.type) {
    case 'entity':
      return propertyWords(declaration.properties, declaration.kind.text);
    case 'catalogue':
      return declaration.rows.flatMap(row => propertyWords(row.properties, declaration.kind?.text ?? ''));
    case 'case':
      return declaration.properties.flatMap(property => {
        const kind = entityByTag(context.path, context.tree, property.target[0]?.text ?? '')?.declaration.kind.text;
        return valueWords(property, property.target[1]?.text ?? '', kind ?? '');
      });
    case 'let':
      return expressionWords(declaration.value);
    case 'require':
      return expressionWords(declaration.condition);
    default:
      return [];
  }
}

function propertyWords(properties: readonly Property[], kind: string): readonly SemanticToken[] {
  return properties.flatMap(property => {
    const [name] = property.target;
    if (name === undefined) return [];
    const modifiers: TokenModifier[] = [
      ...(property.value?.type === 'pick' ? (['pick'] as const) : []),
      ...(property.provenance?.word === 'assumed' ? (['assumed'] as const) : []),
    ];
    const token: SemanticToken = { start: name.start, end: name.end, type: 'property', modifiers };
    return [...(modifiers.length > 0 ? [token] : []), ...valueWords(property, name.text, kind)];
  });
}

function valueWords({ value, clauses }: Property, name: string, kindName: string): readonly SemanticToken[] {
  const kind = kindByName.get(kindName);
  const type = kind && propertyOf(kind, name)?.type;
  const isChoice = type?.is === 'choice' && value?.type === 'reference' && value.path.length === 1;
  if (isChoice) return [{ start: value.start, end: value.end, type: 'enumMember', modifiers: ['readonly'] }];
  return [...expressionWords(value), ...clauses.flatMap(clause => expressionWords(clause.value))];
}

function expressionWords(expression: Expression | undefined): readonly SemanticToken[] {
  if (expression === undefined) return [];
  const inside = childrenOf(expression).flatMap(expressionWords);
  const { start } = expression;
  if (expression.type === 'pick')
    return [{ start, end: start + 'pick'.length, type: 'keyword', modifiers: ['pick'] }, ...inside];
  if (expression.type !== 'call') return inside;
  return [{ start: expression.name.start, end: expression.name.end, type: 'function', modifiers: [] }, ...inside];
}

function mergeByPlace(tokens: readonly SemanticToken[]): readonly SemanticToken[] {
  const byPlace = new Map<string, SemanticToken>();
  for (const token of tokens) {
    const key = `${token.start}:${token.end}`;
    const known = byPlace.get(key);
    byPlace.set(key, known === undefined ? token : { ...known, modifiers: [...known.modifiers, ...token.modifiers] });
  }
  return [...byPlace.values()].toSorted((a, b) => a.start - b.start);
}

function withoutOverlaps(tokens: readonly SemanticToken[]): readonly SemanticToken[] {
  let end = 0;
  return tokens.filter(token => {
    const fits = token.start >= end && token.end > token.start;
    if (fits) end = token.end;
    return fits;
  });
}

function moved(token: SemanticToken, by: number): SemanticToken {
  return { ...token, start: token.start + by, end: token.end + by };
}
