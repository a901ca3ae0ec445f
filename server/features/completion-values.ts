// Completion behind `=`: units, choices, names, examples, and the clauses that may follow a value.
import type { Property, PropertyType } from '../../engine/kinds/kind.ts';
import { type Dimension, dimensions } from '../../engine/units/dimension.ts';
import { unitsOf } from '../../engine/units/preferred.ts';
import { readUnit } from '../../engine/units/read.ts';
import type { CompletionContext, Offer } from './completion.ts';
import { entitiesOf, visibleFrom } from './symbols.ts';

/** `name = value` with the value of the example marked, so that typing replaces the numbers and keeps the units. */
export function propertySnippet({ name, type, example }: Property): string {
  return `${name} = ${placeholder(type, example)}`;
}

/**
 * Units, when a number stands before the cursor; undefined otherwise. Takes what the value has to measure: a property's
 * type, or the SI unit of a result.
 */
export function unitsBehindNumber(
  wanted: PropertyType | string | undefined,
  text: string,
  prefix: string,
): readonly Offer[] | undefined {
  const number = text.match(/(?<![\p{L}\p{N}_.])[\d][\d_]*(?:\.\d+)?(?:[eE][-+]?\d+)?([ \t]?)$/u);
  // A letter glued to a word is no unit.
  if (number === null || wanted === undefined) return undefined;
  const glue = number[1] === '' && prefix === '' ? ' ' : '';
  const tolerance = /(?:±|\+\/?-)\s*[\d._]+\s*$/.test(text);
  const clause = text.match(/\b(for|every)\s+[\d._]+\s*$/)?.[1];
  const wide = clause === undefined ? dimensionsOf(wanted) : [dimensions.time];
  const units = [...(tolerance ? ['%'] : []), ...wide.flatMap(dimension => unitsOf(dimension).map(unit => unit.text))];
  return [...new Set(units)]
    .filter(unit => unit !== '' && unit !== '1')
    .map(unit => ({ label: unit, type: 'unit', text: glue + unit }));
}

export function valuesFor({ type, example }: Property, value: string, context: CompletionContext): readonly Offer[] {
  if (type.is === 'choice') return value.trim() === '' ? type.choices.map(label => ({ label, type: 'choice' })) : [];
  if (type.is === 'text')
    return value.trim() === '' ? [{ label: example, type: 'value', text: `"$1"`, snippet: true }] : [];
  if (type.is === 'reference') return referable(type.kinds, context);
  if (value.trim() !== '') return [];
  const offers: Offer[] = [{ label: example, type: 'value', text: placeholder(type, example), snippet: true }];
  if (type.forms.includes('pick')) offers.push({ label: 'pick', type: 'keyword', detail: 'the smallest that holds' });
  if (type.forms.includes('curve')) offers.push(...(type.axes ?? []).map(axis => curveOffer(axis, type.dimension)));
  return offers;
}

/** Behind a finished value: where it comes from, and the clauses that the property knows. */
export function wordsAfterValue(type: PropertyType, value: string): readonly Offer[] {
  if (/\b(?:from|assumed)\b/.test(value)) return [];
  const clauses = type.is === 'quantity' ? Object.keys(type.clauses ?? {}) : [];
  const per = type.is === 'quantity' && type.per ? ['per cell', 'per string'] : [];
  const words = [
    ...per.filter(() => !/\bper\b/.test(value)),
    ...clauses.filter(word => !new RegExp(`\\b${word}\\b`).test(value)),
  ];
  return [
    ...words.map((label): Offer => ({ label, type: 'keyword' })),
    { label: 'from', type: 'keyword', text: 'from "$1"', snippet: true, detail: 'the source of this fact' },
    {
      label: 'assumed',
      type: 'keyword',
      text: 'assumed "$1"',
      snippet: true,
      detail: 'the author assumes it, because …',
    },
  ];
}

function referable(kinds: readonly string[], { path, tree, closure }: CompletionContext): readonly Offer[] {
  const own = entitiesOf(path, tree).filter(({ declaration }) => kinds.includes(declaration.kind.text));
  const names = own.map(({ declaration }) => ({ label: declaration.name?.text ?? '', detail: declaration.kind.text }));
  const used = visibleFrom(path, tree, closure).flatMap(({ written, declared: { declaration, path: at } }) => {
    const fits = declaration.type === 'entity' && !declaration.part && kinds.includes(declaration.kind.text);
    return fits ? [{ label: written, detail: at }] : [];
  });
  const byLabel = new Map([...used, ...names].map(each => [each.label, each]));
  return [...byLabel.values()].map(({ label, detail }) => ({ label, detail, type: 'component' }));
}

function curveOffer(
  axis: { readonly name: string; readonly dimension: keyof typeof dimensions },
  y: keyof typeof dimensions,
): Offer {
  const [x1, y1] = [dimensions[axis.dimension].unit, dimensions[y].unit];
  const row = (at: number) => `\${${at}:0} ${x1 || '%'}  \${${at + 1}:0} ${y1 || '%'}`;
  const text = `curve ${axis.name} {\n  ${row(1)}\n  ${row(3)}\n}`;
  return { label: `curve ${axis.name}`, type: 'snippet', text, snippet: true };
}

/** The example with a placeholder for each number; a choice offers its words; anything else is replaced as a whole. */
function placeholder(type: PropertyType, example: string): string {
  if (type.is === 'choice') return `\${1|${type.choices.map(word => word.replace(/[\\,|]/g, '\\$&')).join(',')}|}`;
  if (type.is !== 'quantity' || example.startsWith('curve')) return `\${1:${escapeSnippet(example)}}`;
  let stop = 0;
  const text = escapeSnippet(example).replace(/(?<![\p{L}\p{N}_.])\d[\d_]*(?:\.\d+)?(?:e-?\d+)?/gu, number => {
    stop += 1;
    return `\${${stop}:${number}}`;
  });
  return stop === 0 ? `\${1:${text}}` : text;
}

function escapeSnippet(text: string): string {
  return text.replace(/[\\$}]/g, '\\$&');
}

function dimensionsOf(wanted: PropertyType | string): readonly Dimension[] {
  if (typeof wanted === 'string') {
    const reading = readUnit(wanted);
    return reading.ok ? [reading.unit.dimension === dimensions.count ? dimensions.ratio : reading.unit.dimension] : [];
  }
  if (wanted.is !== 'quantity') return [];
  return [wanted.dimension, ...(wanted.or ?? [])].map(name => dimensions[name]);
}
