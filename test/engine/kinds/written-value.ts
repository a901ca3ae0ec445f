// Reads the values in the kinds' own examples, defaults and snippets: far less than the grammar does, and apart from it.
import type { Property, QuantityType } from '../../../engine/kinds/kind.ts';
import { assignable, type Dimension, type DimensionName, dimensions } from '../../../engine/units/dimension.ts';
import { readUnit, toSI } from '../../../engine/units/read.ts';

interface Literal {
  readonly si: number;
  readonly dimension: Dimension;
}

/** What is wrong with a value written for this property; empty when nothing is. */
export function faultsOf(property: Property, text: string): string[] {
  const { type } = property;
  if (type.is === 'choice') return type.choices.includes(text) ? [] : [`${text} is no choice`];
  if (type.is === 'text') return /^"[^"]+"$/u.test(text) ? [] : [`${text} is no text`];
  if (type.is === 'reference') return /^\p{L}[\p{L}\d_]*$/u.test(text) ? [] : [`${text} is no name`];
  return quantityFaults(type, text);
}

/** The literal and its unit in SI; throws where there is none, so that no test passes by reading nothing. */
export function readLiteral(text: string): Literal {
  const match = /^([-+]?\d[\d_]*(?:\.\d+)?)(?: (\S+))?$/u.exec(text.trim());
  if (match?.[1] === undefined) throw new Error(`"${text}" is no number with a unit`);
  const reading = readUnit(match[2] ?? '');
  if (!reading.ok) throw new Error(`"${match[2]}" is no unit`);
  return { si: toSI(Number(match[1].replaceAll('_', '')), reading.unit), dimension: reading.unit.dimension };
}

function quantityFaults(type: QuantityType, text: string): string[] {
  if (text.startsWith('curve ')) return curveFaults(type, text);
  const per = / per (?:cell|string)$/u.exec(text);
  const [value = '', ...clauses] = text.slice(0, per?.index).split(/ (?=(?:for|every|delivering|absorbing)\b)/u);
  return [
    ...(per !== null && type.per === undefined ? [`per is not allowed: ${text}`] : []),
    ...plainFaults(type, value),
    ...clauses.flatMap(clause => clauseFaults(type, clause)),
  ];
}

function plainFaults(type: QuantityType, text: string): string[] {
  const [low = '', high] = text.split(' .. ');
  if (high !== undefined)
    return [...formFaults(type, 'range'), ...valueFaults(type, low), ...valueFaults(type, high), ...order(low, high)];
  const [nominal = '', deviation] = text.split(' ± ');
  if (deviation === undefined) return [...formFaults(type, 'number'), ...valueFaults(type, nominal)];
  return [...formFaults(type, 'tolerance'), ...valueFaults(type, nominal), ...deviationFaults(deviation)];
}

function deviationFaults(text: string): string[] {
  const { si, dimension } = readLiteral(text);
  return dimension === dimensions.ratio && si > 0 && si < 1 ? [] : [`${text} is no deviation in per cent`];
}

function clauseFaults(type: QuantityType, clause: string): string[] {
  const [word = '', ...rest] = clause.split(' ');
  if (!Object.hasOwn(type.clauses ?? {}, word)) return [`${word} is no clause here`];
  const wanted = type.clauses?.[word];
  if (wanted === undefined) return rest.length === 0 ? [] : [`${word} is a bare word`];
  return dimensionFaults(wanted, rest.join(' '));
}

function curveFaults(type: QuantityType, text: string): string[] {
  const match = /^curve ([\w, ]+?)( per cell| per string)?( smooth| log)? \{(.*)\}$/su.exec(text);
  const axis = (type.axes ?? []).find(each => each.name === match?.[1]);
  if (match === null || axis === undefined) return [`${text} is no curve over one of the axes`];
  const rows = (match[4] ?? '').split(/[,\n]/u).filter(row => row.trim() !== '');
  const cells = rows.map(row => row.trim().split(/(?<=[^\d\s-]) +(?=[-\d])|(?<=^\d+) +(?=[-\d])/u));
  const xs = cells.map(([x = '']) => readLiteral(x).si);
  return [
    ...formFaults(type, 'curve'),
    ...(match[2] !== undefined && type.per === undefined ? [`per is not allowed: ${text}`] : []),
    ...(cells.length < 2 || cells.some(row => row.length !== 2) ? [`a row needs x and y: ${text}`] : []),
    ...(xs.every((x, index) => index === 0 || x > (xs[index - 1] ?? x)) ? [] : [`x does not rise: ${text}`]),
    ...cells.flatMap(([x = '', y = '']) => [...dimensionFaults(axis.dimension, x), ...valueFaults(type, y)]),
  ];
}

function valueFaults(type: QuantityType, text: string): string[] {
  const { si, dimension } = readLiteral(text);
  const fitting = [type.dimension, ...(type.or ?? [])].filter(name => assignable(dimension, dimensions[name]));
  if (fitting.length === 0) return [`${text} has the wrong dimension`];
  return [
    ...(fitting.includes(type.dimension) && !isWithin(type, si) ? [`${text} is out of bounds`] : []),
    ...(type.whole === true && !Number.isInteger(si) ? [`${text} is no whole number`] : []),
  ];
}

function isWithin({ least, greatest }: QuantityType, si: number): boolean {
  const isAbove = least === undefined || si > least.value || (!least.exclusive && si === least.value);
  const isBelow = greatest === undefined || si < greatest.value || (!greatest.exclusive && si === greatest.value);
  return isAbove && isBelow;
}

function dimensionFaults(wanted: DimensionName, text: string): string[] {
  return assignable(readLiteral(text).dimension, dimensions[wanted]) ? [] : [`${text} is no ${wanted}`];
}

function formFaults(type: QuantityType, form: QuantityType['forms'][number]): string[] {
  return type.forms.includes(form) ? [] : [`${form} is no form of it`];
}

function order(low: string, high: string): string[] {
  return readLiteral(low).si < readLiteral(high).si ? [] : [`${low} .. ${high} is reversed`];
}
