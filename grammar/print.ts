// The formatter: the one layout of a file. Formatting twice gives the same as formatting once.
//
// A declaration with a mistake in it stays exactly as it was written; so does everything inside quotes and comments.

import type { Chunk, Declaration, Expression, Property } from './ast.ts';
import { layOut } from './layout.ts';
import { parse } from './parse.ts';
import { type Line, layLines } from './print-lines.ts';
import type { Shape } from './print-tokens.ts';
import * as t from './tokens.ts';

/** Formats a file, keeping its line ends and its byte order mark. Never throws. */
export function formatText(text: string): string {
  // Blank lines at the beginning go, and can't speak for the file.
  const newline = /\r\n|\r|\n/.exec(text.trimStart())?.[0] ?? '\n';
  const mark = text.startsWith('\ufeff') ? '\ufeff' : '';
  const { chunks } = parse(text.slice(mark.length));
  let result = '';
  for (const [index, { chunk }] of chunks.entries()) {
    if (chunk.problems.length > 0) {
      result += chunk.text;
      continue;
    }
    const isLast = index === chunks.length - 1;
    result += formatChunk(chunk, index === 0, isLast).replaceAll('\n', newline);
  }
  return mark + result;
}

function formatChunk(chunk: Chunk, isFirst: boolean, isLast: boolean): string {
  const raw = t.lex(chunk.text);
  const { tokens } = layOut(raw, chunk.text);
  const separators = new Set<number>();
  for (const { tokenType, image, startOffset } of tokens) {
    if (tokenType === t.Separator && image === '') separators.add(startOffset);
  }
  const lines = layLines(raw, shapeOf(chunk), separators);
  const body = lines.map(lineText);
  if (body.length === 0) return isFirst || isLast ? '' : chunkEnd(chunk.text).slice(1);
  const before = !isFirst && /^\s*?(?:\r\n|\r|\n)/.test(chunk.text) ? '\n' : '';
  return `${before}${body.join('\n')}${isLast ? '\n' : chunkEnd(chunk.text)}`;
}

/** At most one blank line of those at the end of a chunk stays. */
function chunkEnd(text: string): string {
  const blanks = text.slice(text.trimEnd().length);
  return (blanks.match(/\r\n|\r|\n/g)?.length ?? 0) > 1 ? '\n\n' : '\n';
}

function lineText({ indent, text, comment }: Line): string {
  if (text === '') return '';
  const line = ' '.repeat(indent) + text;
  return comment === undefined ? line : `${line}  ${comment}`;
}

/** What the printer has to know of the meaning of tokens. */
function shapeOf({ declaration }: Chunk): Shape {
  const gluedSigns = new Set<number>();
  const rowStarts = new Set<number>();
  const visit = (expression: Expression | undefined): void => {
    if (expression === undefined) return;
    if (expression.type === 'tolerance' && expression.plus.start !== expression.minus.start) {
      gluedSigns.add(expression.plus.start - 1);
      gluedSigns.add(expression.minus.start - 1);
    }
    if (expression.type === 'curve') for (const row of expression.rows) rowStarts.add(row.start);
    for (const child of childrenOf(expression)) visit(child);
  };
  for (const property of propertiesOf(declaration)) {
    visit(property.value);
    for (const clause of property.clauses) visit(clause.value);
  }
  if (declaration?.type === 'let') visit(declaration.value);
  if (declaration?.type === 'require') visit(declaration.condition);
  if (declaration?.type === 'accept') visit(declaration.bound);
  return { gluedSigns, rowStarts };
}

export function propertiesOf(declaration: Declaration | undefined): readonly Property[] {
  if (declaration?.type === 'entity' || declaration?.type === 'case') return declaration.properties;
  if (declaration?.type === 'catalogue') return declaration.rows.flatMap(row => row.properties);
  return [];
}

export function childrenOf(expression: Expression): readonly Expression[] {
  switch (expression.type) {
    case 'range':
      return [expression.low, expression.high];
    case 'tolerance':
      return [expression.nominal];
    case 'binary':
    case 'compare':
      return [expression.left, expression.right];
    case 'negate':
      return [expression.operand];
    case 'group':
      return [expression.inner];
    case 'call':
      return expression.arguments;
    case 'pick':
      return expression.from ?? [];
    default:
      return [];
  }
}
