// Completion behind `=`: units, choices, names, examples, and the clauses that may follow a value.
import type { Property, PropertyType } from '../../engine/kinds/kind.ts';
import { type Dimension, dimensions } from '../../engine/units/dimension.ts';
import { unitsOf } from '../../engine/units/preferred.ts';
import { readUnit } from '../../engine/units/read.ts';
import type { CompletionContext, Offer } from './completion.ts';
import { entitiesOf, visibleFrom } from './symbols.ts';

/** `name = value` with the value of the example marked. */
export function propertySnippet({ name, type, example }: Property): string {
  return `${name} = ${placeholder(type, example)}`;
}

/** Units behind a number of a property's value: a tolerance may be in per cent, `for` and `every` want times. */
export function unitsFor(type: PropertyType, before: string): readonly Offer[] {
  if (type.is !== 'quantity') return [];
  const number = String.raw`\s*[\d._]+\s*$`;
  if (new RegExp(String.raw`\b(?:for|every)${number}`).test(before)) return unitList([dimensions.time]);
  const isTolerance = new RegExp(`(?:±|\\+/?-)${number}`).test(before);
  const isCurve = before.slice(before.lastIndexOf('=')).includes('curve');
  const axes = isCurve ? (type.axes ?? []).map(axis => axis.dimension) : [];
  const wanted = [type.dimension, ...(type.or ?? []), ...axes].map(name => dimensions[name]);
  return unitList(isTolerance ? [dimensions.ratio, ...wanted] : wanted);
}

/** Units that fit the result that a requirement or an acceptance speaks of. */
export function unitsOfResult(before: string, { analysis }: CompletionContext): readonly Offer[] {
  if (analysis === undefined) return [];
  const [, code, tag] = before.match(/accept\s+(\S+)\s+on\s+(\S+)/) ?? [];
  const accepted = analysis.findings.find(finding => finding.code === code && finding.subject === tag);
  const required = before.match(/[\p{L}_][\p{L}\p{N}_]*\.[\p{L}_][\p{L}\p{N}_]*/u)?.[0];
  const reading = readUnit(analysis.values.worst(accepted?.value?.name ?? required ?? '')?.unit ?? '');
  if (!reading.ok) return [];
  const { dimension } = reading.unit;
  return unitList([dimension === dimensions.count ? dimensions.ratio : dimension]);
}

function unitList(wanted: readonly Dimension[]): readonly Offer[] {
  const units = wanted.flatMap(dimension => unitsOf(dimension).map(unit => unit.text));
  return [...new Set(units)].filter(unit => unit !== '' && unit !== '1').map(label => ({ label, type: 'unit' }));
}

/** `empty`: nothing of the value is written yet. */
export function valuesFor({ type, example }: Property, empty: boolean, context: CompletionContext): readonly Offer[] {
  if (type.is === 'choice') return empty ? type.choices.map(label => ({ label, type: 'choice' })) : [];
  if (type.is === 'text') return empty ? [{ label: example, type: 'value', text: `"$1"`, snippet: true }] : [];
  if (type.is === 'reference') return referable(type.kinds, context);
  if (!empty) return [];
  const offers: Offer[] = [{ label: example, type: 'value', text: placeholder(type, example), snippet: true }];
  if (type.forms.includes('pick')) offers.push({ label: 'pick', type: 'keyword', detail: 'the smallest that holds' });
  if (type.forms.includes('curve')) offers.push(...(type.axes ?? []).map(axis => curveOffer(axis, type.dimension)));
  return offers;
}

/** Behind a finished value: where it comes from, and the clauses that the property knows. */
export function wordsAfterValue(type: PropertyType | undefined, value: string): readonly Offer[] {
  if (/\b(?:from|assumed)\b/.test(value)) return [];
  const clauses = type?.is === 'quantity' ? Object.keys(type.clauses ?? {}) : [];
  const per = type?.is === 'quantity' && type.per ? ['per cell', 'per string'] : [];
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

/** The example as one placeholder, unit included, so that typing replaces it as a whole; a choice offers its words. */
function placeholder(type: PropertyType, example: string): string {
  if (type.is !== 'choice') return `\${1:${escapeSnippet(example)}}`;
  return `\${1|${type.choices.map(word => word.replace(/[\\,|]/g, '\\$&')).join(',')}|}`;
}

function escapeSnippet(text: string): string {
  return text.replace(/[\\$}]/g, '\\$&');
}
