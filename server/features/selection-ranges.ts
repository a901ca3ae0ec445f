// Selection ranges: what "expand selection" takes in next, from the word to the whole file.
import type { SourceTree, Span } from '../../grammar/ast.ts';
import { chunkAt } from './locate.ts';

/** From the inside to the outside, each larger than the one before. */
export function selectionRanges(tree: SourceTree, offset: number): readonly Span[] {
  const placed = chunkAt(tree, offset);
  const whole = { start: 0, end: tree.text.length };
  if (placed === undefined) return [whole];
  const { start, chunk } = placed;
  const inside = chunk.declaration === undefined ? [] : spansAround(chunk.declaration, offset - start);
  const trimmed = chunk.text.trimEnd().length;
  const spans = [
    whole,
    ...(offset - start <= trimmed ? [{ start: 0, end: trimmed }, ...inside] : []).map(span => moved(span, start)),
    ...wordAt(tree.text, offset),
  ];
  const inwards: Span[] = [];
  for (const span of spans) {
    const outer = inwards.at(-1);
    const fits = outer === undefined || (outer.start <= span.start && span.end <= outer.end);
    if (fits && !(outer?.start === span.start && outer.end === span.end)) inwards.push(span);
  }
  return inwards.reverse();
}

/** The nodes of the tree around an offset, the largest first; a node is whatever has a place. */
function spansAround(node: object, at: number): readonly Span[] {
  const own = spanOf(node);
  if (own !== undefined && (at < own.start || own.end < at)) return [];
  const children = Object.values(node).filter(child => typeof child === 'object' && child !== null);
  const inside = children.map(child => spansAround(child, at)).filter(spans => spans.length > 0);
  // Of two that touch at the offset the later one counts, as with the word at the cursor.
  return [...(own === undefined ? [] : [own]), ...(inside.at(-1) ?? [])];
}

function spanOf(node: object): Span | undefined {
  if (!('start' in node && 'end' in node)) return undefined;
  const { start, end } = node;
  return typeof start === 'number' && typeof end === 'number' ? { start, end } : undefined;
}

function wordAt(text: string, offset: number): readonly Span[] {
  const before = /[\p{L}\p{M}\p{N}_.]*$/u.exec(text.slice(Math.max(0, offset - 200), offset))?.[0].length ?? 0;
  const after = /^[\p{L}\p{M}\p{N}_]*/u.exec(text.slice(offset, offset + 200))?.[0].length ?? 0;
  const dot = text.slice(offset - before, offset).lastIndexOf('.') + 1;
  return before - dot + after === 0 ? [] : [{ start: offset - before + dot, end: offset + after }];
}

function moved({ start, end }: Span, by: number): Span {
  return { start: start + by, end: end + by };
}
