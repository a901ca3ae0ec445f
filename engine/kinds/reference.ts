// Renders the reference of the language's kinds as Markdown: for "more" in a hover and for the generated pages.
import { type DimensionName, dimensions } from '../units/dimension.ts';
import { show, showNumber } from '../units/show.ts';
import { kinds } from './index.ts';
import type { Kind, Property, PropertyType, QuantityType } from './kind.ts';

/** One page for each kind, `battery.md` and its like, and `index.md` that leads to them. */
export function referencePages(): ReadonlyMap<string, string> {
  const pages = kinds.map(kind => [`${kind.name}.md`, kindPage(kind)] as const);
  return new Map([['index.md', indexPage()], ...pages]);
}

/** The page of one kind: what it is, an example, an overview of its properties and each of them at length. */
export function kindPage(kind: Kind): string {
  const paragraphs = [
    `# ${kind.name}`,
    kind.meaning,
    ...(kind.notEvaluated === undefined ? [] : [notEvaluatedSentence]),
    '## Example',
    fenced(snippetText(kind.snippet)),
    '## Properties',
    ...(kind.oneOf ?? []).map(oneOfSentence),
    overview(kind.properties),
    ...kind.properties.map(property => `### ${property.name}\n\n${propertySection(property)}`),
  ];
  return `${paragraphs.join('\n\n')}\n`;
}

/** All that the language knows of one property, without a heading. */
export function propertySection(property: Property): string {
  const facts = [
    `Value: ${valueSentence(property.type)}`,
    ...boundsSentences(property.type),
    needSentence(property),
    ...fallbackSentences(property),
  ];
  const paragraphs = [
    property.meaning,
    ...(property.notEvaluated === undefined ? [] : [notEvaluatedSentence]),
    ...(property.descriptive === undefined ? [] : ['It is shown beside the component and enters no result.']),
    facts.map(fact => `- ${fact}`).join('\n'),
    fenced(`${property.name} = ${property.example}`),
  ];
  return paragraphs.join('\n\n');
}

/** A snippet as plain text of the language: each placeholder stands for its default, each choice for its first word. */
export function snippetText(snippet: string): string {
  return snippet.replaceAll(/\$\{\d+:([^}]*)\}/gu, '$1').replaceAll(/\$\{\d+\|([^,|}]*)[^}]*\}/gu, '$1');
}

const notEvaluatedSentence = 'It is read and checked for sense, but no result uses it yet.';

function indexPage(): string {
  const rows = kinds.map(kind => [`[${kind.name}](${kind.name}.md)`, kind.meaning]);
  return `# Kinds\n\n${table(['kind', 'meaning'], rows)}\n`;
}

function overview(properties: readonly Property[]): string {
  const rows = properties.map(property => [
    `\`${property.name}\``,
    shortType(property.type),
    property.need,
    property.fallback === undefined ? '' : `\`${property.fallback.text}\``,
  ]);
  return table(['property', 'value', 'need', 'default'], rows);
}

function shortType(type: PropertyType): string {
  if (type.is === 'quantity') return [type.dimension, ...(type.or ?? [])].map(nameOf).join(' or ');
  if (type.is === 'choice') return type.choices.map(code).join(' ');
  return type.is === 'text' ? 'text' : 'reference';
}

function valueSentence(type: PropertyType): string {
  if (type.is === 'text') return 'a text in quotation marks.';
  if (type.is === 'choice') return `one of ${listed(type.choices.map(code), 'or')}.`;
  if (type.is === 'reference') return `the name of a ${listed(type.kinds.map(code), 'or')}.`;
  const phrase = (name: DimensionName) => (type.whole === undefined ? dimensions[name].phrase : 'a whole number');
  const named = [type.dimension, ...(type.or ?? [])].map(phrase);
  const parts = [
    `${listed(named, 'or')}, as ${listed(formPhrases(type), 'or')}`,
    ...(type.per === undefined ? [] : ['`per cell` or `per string`']),
  ];
  return `${parts.join('; ')}${clauseSentence(type)}.`;
}

function formPhrases(type: QuantityType): string[] {
  const axes = listed(
    (type.axes ?? []).map(axis => code(axis.name)),
    'and',
  );
  const phrases = {
    number: 'one value',
    range: 'a range `a .. b`',
    tolerance: 'a nominal with its tolerance `v ± x`',
    curve: `a curve over ${axes}`,
    pick: 'a `pick`',
  };
  return type.forms.map(form => phrases[form]);
}

function clauseSentence(type: QuantityType): string {
  const clauses = Object.entries(type.clauses ?? {});
  if (clauses.length === 0) return '';
  const named = clauses.map(([word, dimension]) =>
    dimension === undefined ? code(word) : `${code(word)} ${dimensions[dimension].phrase}`,
  );
  return `; ${listed(named, 'or')} may follow`;
}

function boundsSentences(type: PropertyType): string[] {
  if (type.is !== 'quantity') return [];
  const { least, greatest } = type;
  const bounds = [
    ...(least === undefined ? [] : [`${least.exclusive ? 'more than' : 'at least'} ${shown(least.value, type)}`]),
    ...(greatest === undefined
      ? []
      : [`${greatest.exclusive ? 'less than' : 'at most'} ${shown(greatest.value, type)}`]),
  ];
  return bounds.length === 0 ? [] : [`Possible: ${bounds.join(', ')}.`];
}

function needSentence(property: Property): string {
  if (property.need === 'required') return 'Required.';
  if (property.need === 'optional') return 'Optional.';
  return 'Expected: where it is missing, a note says what was assumed.';
}

function fallbackSentences(property: Property): string[] {
  const { fallback, toleranceFallback, otherwise } = property;
  return [
    ...(fallback === undefined ? [] : [`Default: \`${fallback.text}\` (${fallback.reason}).`]),
    ...[toleranceFallback, toleranceFallback?.from].flatMap(given =>
      given === undefined ? [] : [`Tolerance where none is stated: ± \`${given.text}\` (${given.reason}).`],
    ),
    ...(otherwise === undefined ? [] : [`Where it is missing: ${otherwise}`]),
  ];
}

function oneOfSentence(names: readonly string[]): string {
  return `At least one of ${listed(names.map(code), 'and')} must be stated.`;
}

function shown(value: number, type: QuantityType): string {
  // A bound on money holds in every currency.
  return type.dimension === 'money' ? showNumber(value) : show(value, dimensions[type.dimension]);
}

function nameOf(dimension: DimensionName): string {
  return dimensions[dimension].name;
}

/** `a, b or c`. */
function listed(words: readonly string[], last: 'and' | 'or'): string {
  const head = words.slice(0, -1).join(', ');
  const tail = words.at(-1) ?? '';
  return head === '' ? tail : `${head} ${last} ${tail}`;
}

function code(text: string): string {
  return `\`${text}\``;
}

function fenced(text: string): string {
  return `\`\`\`plant\n${text.trimEnd()}\n\`\`\``;
}

function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  const lines = [heads, heads.map(() => '---'), ...rows].map(
    cells => `| ${cells.map(cell => cell.replaceAll('|', '\\|')).join(' | ')} |`,
  );
  return lines.join('\n');
}
