// Signature help: what belongs between the parentheses of a function, and what follows `curve`.
import { kindByName, propertyOf } from '../../engine/kinds/index.ts';
import type { SourceTree } from '../../grammar/ast.ts';
import { contextAt } from '../../grammar/context.ts';
import { FUNCTIONS } from '../../grammar/words.ts';
import { chunkAt } from './locate.ts';

export interface SignatureHelp {
  readonly label: string;
  readonly markdown: string;
  /** Each stands in the label, word for word. */
  readonly parameters: readonly { readonly label: string; readonly markdown: string }[];
  readonly active: number;
}

type FunctionName = (typeof FUNCTIONS)[number];

const functions: Readonly<Record<FunctionName, Omit<SignatureHelp, 'active'>>> = {
  min: {
    label: 'min(value, …)',
    markdown: 'The smallest of several values of one dimension.',
    parameters: several(),
  },
  max: {
    label: 'max(value, …)',
    markdown: 'The largest of several values of one dimension.',
    parameters: several(),
  },
  abs: {
    label: 'abs(value)',
    markdown: 'The value without its sign.',
    parameters: [{ label: 'value', markdown: 'A number with its unit.' }],
  },
  sqrt: {
    label: 'sqrt(value)',
    markdown: 'The square root; the dimension has to have one: of an area it is a length.',
    parameters: [{ label: 'value', markdown: 'A number with its unit, not negative.' }],
  },
};

function several(): SignatureHelp['parameters'] {
  return [
    { label: 'value', markdown: 'A number with its unit.' },
    { label: '…', markdown: 'More values of the same dimension.' },
  ];
}

export function signatureHelp(tree: SourceTree, offset: number): SignatureHelp | undefined {
  const placed = chunkAt(tree, offset);
  if (placed === undefined) return undefined;
  const before = withoutTexts(placed.chunk.text.slice(0, offset - placed.start));
  return callAround(before) ?? curveAround(tree, offset, before);
}

/** Texts and comments as blanks, so that their brackets and commas don't count. */
function withoutTexts(text: string): string {
  return text.replace(/"(?:[^"\\\n]|\\.)*"?|#.*/g, found => ' '.repeat(found.length));
}

function callAround(before: string): SignatureHelp | undefined {
  let depth = 0;
  let commas = 0;
  for (let at = before.length - 1; at >= 0; at -= 1) {
    const character = before[at];
    if (character === ')') depth += 1;
    else if (character === '{' || character === '}') return undefined;
    else if (character === ',' && depth === 0) commas += 1;
    else if (character === '(' && depth > 0) depth -= 1;
    else if (character === '(') {
      const name = /([\p{L}_][\p{L}\p{M}\p{Nd}_]*)\s*$/u.exec(before.slice(0, at))?.[1];
      const known = FUNCTIONS.find(one => one === name);
      if (known !== undefined) {
        const signature = functions[known];
        return { ...signature, active: Math.min(commas, signature.parameters.length - 1) };
      }
      commas = 0;
    }
  }
  return undefined;
}

/** The clauses between `curve` and its brace, in the order in which they are written. */
function curveAround(tree: SourceTree, offset: number, before: string): SignatureHelp | undefined {
  const match = /\bcurve\s([^{}=]*)(\{[^{}]*)?$/.exec(before);
  if (match === null) return undefined;
  const [, head = '', points] = match;
  const property = propertyAround(tree, offset - (before.length - match.index));
  const axes = property?.axes ?? ['x'];
  const per = property?.per === true ? ' [per cell | per string]' : '';
  const parameters = [
    { label: axes.join(' | '), markdown: axisText(axes) },
    ...(per === ''
      ? []
      : [{ label: '[per cell | per string]', markdown: 'The values are those of one cell or string.' }]),
    {
      label: '[smooth | log]',
      markdown: 'Between the points: straight lines, a smooth curve, or straight on log scales.',
    },
    { label: '{ x y … }', markdown: 'A point a line, x rising, each number with its unit.' },
  ];
  return {
    label: `curve ${axes.join(' | ')}${per} [smooth | log] { x y … }`,
    markdown: 'A value that changes with another. Outside of the points nothing is known.',
    parameters,
    active: points === undefined ? activeClause(head, parameters.length, per !== '') : parameters.length - 1,
  };
}

function activeClause(head: string, count: number, hasPer: boolean): number {
  const written = head.trim().split(/\s+/).filter(Boolean);
  if (written.length === 0 || (written.length === 1 && !/\s$/.test(head))) return 0;
  if (/\b(?:smooth|log)\s/.test(head)) return count - 1;
  return hasPer && !/\bper\s+\w+\s/.test(head) ? 1 : count - 2;
}

function axisText(axes: readonly string[]): string {
  return axes.length > 1
    ? 'What it changes with: one of these, or several with commas between.'
    : 'What the value changes with.';
}

function propertyAround(tree: SourceTree, offset: number): { axes: readonly string[]; per: boolean } | undefined {
  const { place } = contextAt(tree, offset);
  if (place.where !== 'value' || place.property === undefined) return undefined;
  const kind = kindByName.get(place.kind);
  const type = kind && propertyOf(kind, place.property)?.type;
  if (type?.is !== 'quantity' || type.axes === undefined) return undefined;
  return { axes: type.axes.map(({ name }) => name), per: type.per === true };
}
