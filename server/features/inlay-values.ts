// Inlay values: beside a `pick` what it stands for, and beside the line that decides it a component's main result.
import type { Analysis, ValueRow, WorkspacePath } from '../../engine/analysis.ts';
import type { EntityDeclaration } from '../../grammar/ast.ts';
import { describePoint } from '../findings.ts';
import type { FileContext } from './context.ts';
import { type LineResult, lineResults } from './main-results.ts';
import { type Declared, entitiesOf } from './symbols.ts';

export interface InlayValue {
  readonly offset: number;
  readonly text: string;
  /** The value that it shows; undefined for a pick. */
  readonly name: string | undefined;
  /** Of a pick: what it stands for, in its place. */
  readonly writes?: { readonly start: number; readonly end: number; readonly text: string };
  readonly tooltip: string;
}

/** Those between two offsets, in the order of the text. */
export function inlayValues(context: FileContext, start: number, end: number): readonly InlayValue[] {
  const { path, tree, analysis } = context;
  const results = entitiesOf(path, tree).flatMap(entity =>
    lineResults
      .filter(({ kind }) => kind === entity.declaration.kind.text)
      .flatMap(result => besideLine(entity, result, analysis)),
  );
  return [...picks(analysis, path), ...results]
    .filter(({ offset }) => start <= offset && offset <= end)
    .toSorted((a, b) => a.offset - b.offset);
}

function picks(analysis: Analysis, path: WorkspacePath): readonly InlayValue[] {
  return analysis.picks.flatMap(({ place, text, subject, property }) => {
    if (place.path !== path || text === undefined) return [];
    const tooltip = `Picked for ${subject}.${property}. A code action writes it, or a double click.`;
    const writes = { start: place.start, end: place.end, text };
    return [{ offset: place.end, text: `= ${text}`, name: undefined, writes, tooltip }];
  });
}

function besideLine(
  { start, declaration }: Declared<EntityDeclaration>,
  { property, results, label }: LineResult,
  { values }: Analysis,
): readonly InlayValue[] {
  const tag = declaration.name?.text ?? '';
  const line = declaration.properties.find(({ target }) => target[0]?.text === property) ?? declaration.base;
  const [first, last] = results.map(result => values.worst(`${tag}.${result}`));
  if (line === undefined || first?.value === undefined) return [];
  if (results.length === 2 && last?.value === undefined) return [];
  const where = describePoint(first.point);
  return [
    {
      offset: start + line.end,
      text: last === undefined ? `${label} ${first.display}` : span(label, first, last),
      name: (last ?? first).name,
      tooltip: `${(last ?? first).meaning}${where === '' ? '' : ` Worst: ${where}.`}`,
    },
  ];
}

/** What one end asks for may lie beyond what the other allows. */
function span(label: string, least: ValueRow, most: ValueRow): string {
  if (least.value! > most.value!) return `none ${label}: at least ${least.display}, at most ${most.display}`;
  return `${label} ${least.display} .. ${most.display}`;
}
