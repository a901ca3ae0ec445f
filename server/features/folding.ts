// Folding: blocks, curves and rows over several lines, comments, and the `use` lines together.
import type { Declaration, Expression, PlacedChunk, Property, SourceTree, Span } from '../../grammar/ast.ts';
import { childrenOf } from './locate.ts';

export interface Fold {
  /** Offsets in the first and in the last line that is folded away; a closing brace's line stays. */
  readonly start: number;
  readonly end: number;
  readonly kind: 'block' | 'comment' | 'imports';
}

export function folding({ text, chunks }: SourceTree): readonly Fold[] {
  const blocks = chunks.flatMap(({ start, chunk: { declaration } }) => {
    if (declaration === undefined) return [];
    const spans = [declaration, ...innerSpans(declaration)];
    return spans.map(span => ({ start: start + span.start, end: start + span.end }));
  });
  return [...blocks.flatMap(span => foldBlock(text, span)), ...foldComments(text), ...foldUses(chunks)]
    .filter(({ start, end }) => text.slice(start, end).includes('\n'))
    .toSorted((a, b) => a.start - b.start);
}

function innerSpans(declaration: Declaration): readonly Span[] {
  if (declaration.type === 'catalogue')
    return declaration.rows.flatMap(row => [row, ...row.properties.flatMap(curvesIn)]);
  if (declaration.type === 'entity' || declaration.type === 'case') return declaration.properties.flatMap(curvesIn);
  return [];
}

/** A property folds where its curve does. */
function curvesIn(property: Property): readonly Span[] {
  const has = (expression: Expression | undefined): boolean =>
    expression !== undefined && (expression.type === 'curve' || childrenOf(expression).some(has));
  return has(property.value) ? [property] : [];
}

function foldBlock(text: string, { start, end }: Span): readonly Fold[] {
  const lastLine = text.lastIndexOf('\n', end - 1);
  const closes = text
    .slice(lastLine + 1, end)
    .trimStart()
    .startsWith('}');
  return [{ start, end: closes ? lastLine : end, kind: 'block' }];
}

function foldComments(text: string): readonly Fold[] {
  return [...text.matchAll(/^[ \t]*#.*(?:\r?\n[ \t]*#.*)+/gm)].map(({ index, 0: lines }) => {
    return { start: index, end: index + lines.length, kind: 'comment' };
  });
}

function foldUses(chunks: readonly PlacedChunk[]): readonly Fold[] {
  const folds: Fold[] = [];
  let first: PlacedChunk | undefined;
  let last = 0;
  const finish = () => {
    if (first !== undefined) folds.push({ start: first.start, end: last, kind: 'imports' });
    first = undefined;
  };
  for (const placed of chunks) {
    const { declaration } = placed.chunk;
    if (declaration?.type !== 'use') finish();
    else {
      first ??= placed;
      last = placed.start + declaration.end;
    }
  }
  finish();
  return folds;
}
