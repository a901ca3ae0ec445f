// Markdown for hovers and the derivation view. Whatever comes from a file is escaped: it is shown, never obeyed.
import type { Derivation, DerivationInput } from '../../engine/analysis.ts';
import { describePoint } from '../findings.ts';
import { shortInputs } from '../inputs.ts';

/** Makes the link that shows a value's derivation; undefined where the editor can't run one. */
export type DerivationLink = (name: string) => string | undefined;

export function escapeMarkdown(text: string): string {
  return text.replace(/[\\`*_{}[\]<>()#!|~&$]/g, '\\$&').replace(/\s+/g, ' ');
}

/** In code spans a backslash does not escape, so the fence is made longer than any run of backquotes inside. */
export function codeSpan(text: string): string {
  const longest = Math.max(0, ...(text.match(/`+/g) ?? []).map(run => run.length));
  const fence = '`'.repeat(longest + 1);
  const flat = text.replace(/\s+/g, ' ');
  return longest === 0 ? `${fence}${flat}${fence}` : `${fence} ${flat} ${fence}`;
}

/** One level: formula, the numbers put in, the corner, the source, and links to go further. */
export function derivationMarkdown(derivation: Derivation, link: DerivationLink): string {
  const { name, display, meaning, formula, point, corners, source, inputs, limit, stretches } = derivation;
  const { shown, more } = shortInputs(name, inputs, 8);
  const target = link(name);
  const title = `**${escapeMarkdown(name)} = ${escapeMarkdown(display)}**`;
  const remarks = [
    limit && `bound by ${limit.text}`,
    describePoint(point) && `at ${describePoint(point)}`,
    corners && `taking ${corners}`,
    source && `after ${source}`,
  ].filter(Boolean);
  return [
    meaning === '' ? title : `${title}: ${escapeMarkdown(meaning)}`,
    codeSpan(formula),
    [...shown.map(input => `- ${inputMarkdown(input, link)}`), ...(more > 0 ? [`- and ${more} more`] : [])].join('\n'),
    stretches.map(stretch => `- ${escapeMarkdown(stretch.display)}`).join('\n'),
    escapeMarkdown(remarks.join('; ')),
    target === undefined ? '' : `[The whole derivation](${target})`,
  ]
    .filter(Boolean)
    .join('\n\n');
}

function inputMarkdown(input: DerivationInput, link: DerivationLink): string {
  const target = input.kind === 'value' ? link(input.key?.name ?? input.name) : undefined;
  const name = target === undefined ? escapeMarkdown(input.name) : `[${escapeMarkdown(input.name)}](${target})`;
  const origin = input.provenance === undefined ? '' : ` (${escapeMarkdown(input.provenance)})`;
  return `${name} = ${escapeMarkdown(input.display)}${origin}`;
}
