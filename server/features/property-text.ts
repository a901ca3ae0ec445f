// What the language knows about a property, in words.
import type { Property, PropertyType, QuantityType } from '../../engine/kinds/kind.ts';
import { dimensions } from '../../engine/units/dimension.ts';
import { show } from '../../engine/units/show.ts';
import { codeSpan, escapeMarkdown } from './markdown.ts';

/** `required`, `expected` or `optional` matter to the author only as: must I, should I, may I. */
const needs: Readonly<Record<Property['need'], string>> = {
  required: 'required',
  expected: 'assumed if not stated',
  optional: 'optional',
};

export function propertyMarkdown(property: Property, kind: string): string {
  const { name, meaning, fallback, example, need } = property;
  return [
    `**${escapeMarkdown(name)}** of a ${escapeMarkdown(kind)}: ${escapeMarkdown(meaning)}`,
    `${escapeMarkdown(typeInWords(property.type))}; ${needs[need]}.`,
    fallback === undefined ? '' : `Not stated: ${codeSpan(fallback.text)} (${escapeMarkdown(fallback.reason)}).`,
    `Example: ${codeSpan(`${name} = ${example}`)}`,
    property.notEvaluated ? 'It is read and checked, but nothing is computed from it yet.' : '',
  ]
    .filter(Boolean)
    .join('\n\n');
}

/** `a voltage, from 0 V (not 0 V itself) to 1 MV, as range or curve`. */
export function typeInWords(type: PropertyType): string {
  if (type.is === 'choice') return `one of ${type.choices.join(', ')}`;
  if (type.is === 'text') return 'text in quotes';
  if (type.is === 'reference') return `the name of a ${type.kinds.join(' or ')}`;
  const alternatives = (type.or ?? []).map(name => `, or ${dimensions[name].phrase}`).join('');
  return [`${dimensions[type.dimension].phrase}${alternatives}`, boundsInWords(type), formsInWords(type)]
    .filter(Boolean)
    .join('; ');
}

function boundsInWords({ dimension, least, greatest }: QuantityType): string {
  const bound = (value: number) => show(value, dimensions[dimension]);
  const low = least && `${least.exclusive ? 'more than' : 'at least'} ${bound(least.value)}`;
  const high = greatest && `${greatest.exclusive ? 'less than' : 'at most'} ${bound(greatest.value)}`;
  return [low, high].filter(Boolean).join(', ');
}

function formsInWords({ forms, axes = [], per }: QuantityType): string {
  const words = forms.flatMap(form => {
    if (form === 'number') return [];
    if (form === 'curve') return [`a curve of ${axes.map(axis => axis.name).join(' or ')}`];
    if (form === 'pick') return ['pick'];
    return [`a ${form}`];
  });
  const also = words.length === 0 ? '' : `${forms.includes('number') ? 'also' : 'as'} ${words.join(', ')}`;
  return [also, per ? 'per cell or per string' : ''].filter(Boolean).join('; ');
}
