// The derivation view: everything that a value is made of, as one page of Markdown.
import type { DerivationInput } from '../../engine/analysis.ts';
import { type DerivationNode, derivationTree } from '../derivation-tree.ts';
import { describePoint } from '../findings.ts';
import type { FileContext } from './context.ts';
import { codeSpan, escapeMarkdown } from './markdown.ts';

/** The value at its worst point; undefined for an unknown name. */
export function derivationPage({ analysis }: FileContext, name: string): string | undefined {
  const worst = analysis.values.worst(name);
  const tree = worst && derivationTree({ name, point: worst.point }, analysis);
  if (tree === undefined) return undefined;
  const plant = analysis.plant === undefined ? '' : ` of ${escapeMarkdown(analysis.plant)}`;
  return `# ${escapeMarkdown(name)}${plant}\n\n${rows(tree, 0).join('\n')}\n\n${caution}\n`;
}

const caution =
  'This supports, and never replaces, the judgement of a licensed engineer; local codes, the makers’ instructions and the standards that apply come first.';

function rows(node: DerivationNode, depth: number): readonly string[] {
  const indent = '  '.repeat(depth);
  if (node.type === 'again') return [`${indent}- ${equation(node.input)}, shown above`];
  if (node.type === 'leaf') return [`${indent}- ${equation(node.input)}${origin(node.input)}`];
  const { derivation } = node;
  const remarks = [
    derivation.limit && escapeMarkdown(`bound by ${derivation.limit.text}`),
    ...derivation.stretches.map(({ display }) => escapeMarkdown(display)),
    codeSpan(derivation.formula),
    // Remarks follow one another on the line.
    escapeMarkdown(derivation.meaning.replace(/\.$/, '')),
    describePoint(derivation.point) && escapeMarkdown(`at ${describePoint(derivation.point)}`),
    derivation.corners && escapeMarkdown(`taking ${derivation.corners}`),
    derivation.source && escapeMarkdown(`after ${derivation.source}`),
  ].filter(Boolean);
  return [
    `${indent}- **${equation(derivation)}**: ${remarks.join('; ')}`,
    ...node.inputs.flatMap(input => rows(input, depth + 1)),
  ];
}

function equation({ name, display }: { readonly name: string; readonly display: string }): string {
  return `${escapeMarkdown(name)} = ${escapeMarkdown(display)}`;
}

function origin({ provenance, kind }: DerivationInput): string {
  const text = provenance ?? (kind === 'constant' ? 'constant' : undefined);
  return text === undefined ? '' : ` (${escapeMarkdown(text)})`;
}
