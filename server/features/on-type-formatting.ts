// Formatting while typing: what stands above the cursor, never the line that is being typed.
//
// The editor drops an answer that comes after the next key, and under load it does not even ask. Whoever types without a
// pause is answered once in many lines, so each answer makes up for all that was typed and not answered before it.
import type { PlacedChunk, SourceTree } from '../../grammar/ast.ts';
import { parse } from '../../grammar/parse.ts';
import { chunkEdits, type OffsetEdit } from './formatting.ts';
import { chunkAt } from './locate.ts';

/** A property with a curve is the deepest that braces stand in each other. */
const deepest = 2;

/**
 * After a brace the declaration that it closes; after a line end what is above the cursor in the declaration that was
 * left. Then of the declarations directly above, as far as the author has written in them, the lines that he has
 * written. `isNew` tells them, by their text without blanks at the end.
 */
export function onTypeFormatting(
  tree: SourceTree,
  offset: number,
  typed: string,
  isNew: (line: string) => boolean = () => false,
): readonly OffsetEdit[] {
  const isBrace = typed === '}';
  const end = isBrace ? offset : tree.text.lastIndexOf('\n', offset - 1) + 1;
  const left = chunkAt(tree, end - 1);
  if (end <= 1 || left === undefined) return [];
  const line = tree.text.lastIndexOf('\n', end - 2) + 1;
  // Blank lines behind a declaration belong to its chunk.
  const isInside = line <= endOf(left);
  const edits = isBrace ? closedBy(left, end) : isInside ? above(left, end) : [];
  if (isBrace && edits === undefined) return [];
  return [...madeUpFor(tree, isInside ? left.start : end, isNew), ...(edits ?? [])];
}

function endOf({ start, chunk }: PlacedChunk): number {
  return start + chunk.text.trimEnd().length;
}

/** The edits of a declaration whose last character stands before `end`; undefined where it goes on there. */
function closedBy(placed: PlacedChunk, end: number): readonly OffsetEdit[] | undefined {
  if (placed.chunk.problems.length === 0) return endOf(placed) === end ? chunkEdits(placed) : undefined;
  const head = headOf(placed, end, 0);
  return head && chunkEdits(head);
}

/** The edits of the lines before `end`. What stands behind, such as a brace too many or too few, is not waited for. */
function above(placed: PlacedChunk, end: number): readonly OffsetEdit[] {
  const readable = placed.chunk.problems.length === 0 ? placed : headOf(placed, end, deepest);
  return readable === undefined ? [] : chunkEdits(readable).filter(edit => edit.end <= end);
}

/** The beginning of a declaration as one of its own, with braces put in for up to `missing` open ones, if it can be read. */
function headOf({ start, chunk }: PlacedChunk, end: number, missing: number): PlacedChunk | undefined {
  const text = chunk.text.slice(0, end - start);
  for (let braces = 0; braces <= missing; braces++) {
    const [head, ...rest] = parse(text + '}\n'.repeat(braces)).chunks;
    const isReadable = head !== undefined && rest.length === 0 && head.chunk.problems.length === 0;
    if (isReadable && head.chunk.declaration !== undefined) return { start, chunk: head.chunk };
  }
  return undefined;
}

function madeUpFor(tree: SourceTree, end: number, isNew: (line: string) => boolean): readonly OffsetEdit[] {
  const edits: OffsetEdit[] = [];
  for (const placed of tree.chunks.filter(({ start }) => start < end).toReversed()) {
    if (!linesOf(placed.chunk.text).some(isNew)) break;
    const own = chunkEdits(placed).filter(edit => linesOf(tree.text.slice(edit.start, edit.end)).every(isNew));
    edits.unshift(...own);
  }
  return edits;
}

/** The lines that say something: a brace alone is nobody's. */
function linesOf(text: string): readonly string[] {
  return text
    .split('\n')
    .map(line => line.trimEnd())
    .filter(line => line !== '' && line !== '}');
}
