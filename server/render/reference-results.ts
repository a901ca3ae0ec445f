// Reference pages of the results: what is derived for each kind, with formula, source and the corners it takes.
import { kinds } from '../../engine/kinds/index.ts';
import type { KindName } from '../../engine/kinds/kind.ts';
import type { Result } from '../../engine/results/definition.ts';
import { resultsOf } from '../../engine/results/index.ts';
import { dimensions } from '../../engine/units/dimension.ts';
import { code, page, table } from './reference-text.ts';

/** `results/index.md` and one page for each kind that has results. */
export function resultPages(): readonly (readonly [string, string])[] {
  const withResults = kinds.map(({ name }) => name).filter(kind => resultsOf(kind).length > 0);
  const rows = withResults.map(kind => [
    `[${kind}](${kind}.md)`,
    resultsOf(kind)
      .map(({ name }) => code(name))
      .join(' '),
  ]);
  const index = page(
    '# Results',
    'Values that are derived from the facts of a plant.',
    table(['kind', 'results'], rows),
  );
  return [['results/index.md', index], ...withResults.map(kind => [`results/${kind}.md`, kindPage(kind)] as const)];
}

function kindPage(kind: KindName): string {
  const results = resultsOf(kind);
  const [first] = results;
  const example =
    first === undefined ? '' : `In a requirement a result is named behind its tag, such as \`TAG.${first.name}\`.`;
  return page(`# Results of ${article(kind)} ${kind}`, example, ...results.map(section));
}

function section({ name, meaning, formula, source, corners, worst, dimension, axes }: Result): string {
  const facts = [
    `Dimension: ${dimensions[dimension].name}.`,
    `Formula: ${code(formula)}`,
    `Source: ${source}.`,
    `Takes: ${corners}; the ${worst} value is the worst.`,
    axes.length === 0 ? 'One value in each case.' : `Varies with: ${axes.map(axis => axisNames[axis]).join(', ')}.`,
  ];
  return page(`## ${name}`, meaning, facts.map(fact => `- ${fact.replace(/\.\.$/, '.')}`).join('\n')).trimEnd();
}

const axisNames: Readonly<Record<Result['axes'][number], string>> = {
  duty: 'the duty',
  direction: 'the direction of reactive power',
  voltage: 'the network’s voltage',
  soc: 'the end of the state-of-charge span',
};

function article(word: string): string {
  return /^[aeiou]/.test(word) ? 'an' : 'a';
}
