// `explain` for people: an indented tree.
import type { DerivationInput } from '../../../engine/analysis.ts';
import type { Place } from '../../../engine/finding.ts';
import type { DerivationNode } from '../../derivation-tree.ts';
import { describePoint } from '../../findings.ts';
import type { ShownPlace } from '../report.ts';
import { harmless, type Style } from '../terminal.ts';

export function explainAsText(tree: DerivationNode, show: (place: Place) => ShownPlace, style: Style): string {
  return `${rows(tree, 0, show, style).join('\n')}\n`;
}

function rows(
  node: DerivationNode,
  depth: number,
  show: (place: Place) => ShownPlace,
  style: Style,
): readonly string[] {
  const indent = '  '.repeat(depth);
  if (node.type === 'again')
    return [`${indent}${equation(node.input, style)}  ${style.colour('grey', '(shown above)')}`];
  if (node.type === 'leaf') return [`${indent}${equation(node.input, style)}${origin(node.input, show, style)}`];
  const { derivation } = node;
  const remarks = [
    derivation.limit && `bound by ${derivation.limit.text}`,
    ...derivation.stretches.map(({ display }) => display),
    derivation.formula,
    derivation.meaning,
    describePoint(derivation.point) && `at ${describePoint(derivation.point)}`,
    derivation.corners && `taking ${derivation.corners}`,
    derivation.source && `after ${derivation.source}`,
  ];
  return [
    `${indent}${equation(derivation, style)}`,
    ...remarks.filter(Boolean).map(remark => style.colour('grey', `${indent}    ${harmless(String(remark))}`)),
    ...node.inputs.flatMap(input => rows(input, depth + 1, show, style)),
  ];
}

function equation({ name, display }: { readonly name: string; readonly display: string }, style: Style): string {
  return `${style.bold(harmless(name))} = ${harmless(display)}`;
}

function origin(input: DerivationInput, show: (place: Place) => ShownPlace, style: Style): string {
  const at = input.place && show(input.place);
  const where = at && `${at.path}:${at.range.start.line}:${at.range.start.column}`;
  const text = [input.provenance ?? (input.kind === 'constant' ? 'constant' : undefined), where]
    .filter(Boolean)
    .join(', ');
  return text === '' ? '' : style.colour('grey', `  (${harmless(text)})`);
}
