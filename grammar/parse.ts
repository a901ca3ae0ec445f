// The one door to the grammar: text in, tree out, whatever the text is.

import type { Chunk, PlacedChunk, SourceTree, Span, SyntaxProblem } from './ast.ts';
import { buildDeclaration } from './build-ast.ts';
import { type Build, report, tokenSpan } from './build-base.ts';
import { detached } from './detached.ts';
import { layOut } from './layout.ts';
import { messages } from './messages.ts';
import { parseTokens } from './parser.ts';
import { splitAtHeads } from './split.ts';
import { lex } from './tokens.ts';

/**
 * Parses a file. Never throws, in time linear in the length of the text.
 *
 * A chunk of `previous` whose text occurs again is taken over as the same object, each at most once, so that
 * whoever caches by identity keeps what an edit elsewhere does not touch.
 */
export function parse(text: string, previous?: SourceTree): SourceTree {
  const starts = splitAtHeads(text);
  const sameAhead = countSame(text, starts, previous, false);
  const sameBehind = countSame(text, starts, previous, true, sameAhead);
  const old = previous?.chunks ?? [];
  const known = chunksByText(old.slice(sameAhead, old.length - sameBehind));
  const chunks: PlacedChunk[] = starts.map((start, index) => {
    if (index < sameAhead) return old[index]!;
    const fromEnd = starts.length - index;
    if (fromEnd <= sameBehind) return { start, chunk: old[old.length - fromEnd]!.chunk };
    const part = text.slice(start, starts[index + 1]);
    // Of a file read for the first time the pieces share one text; after edits each would keep another.
    const own = previous === undefined ? part : detached(part);
    return { start, chunk: known.get(part)?.pop() ?? parseChunk(own) };
  });
  return { text, chunks };
}

/** How many chunks from the start, or from the end, are those of `previous`; of the latter `taken` are spoken for. */
function countSame(
  text: string,
  starts: readonly number[],
  previous: SourceTree | undefined,
  fromEnd: boolean,
  taken = 0,
) {
  const old = previous?.chunks ?? [];
  const most = Math.min(old.length, starts.length) - taken;
  let count = 0;
  while (count < most) {
    const index = fromEnd ? starts.length - 1 - count : count;
    const { chunk } = old[fromEnd ? old.length - 1 - count : count]!;
    const start = starts[index]!;
    const length = (starts[index + 1] ?? text.length) - start;
    if (chunk.text.length !== length || !text.startsWith(chunk.text, start)) break;
    count++;
  }
  return count;
}

/** The chunks by their text, those with the same text last one first. */
function chunksByText(chunks: readonly PlacedChunk[]): Map<string, Chunk[]> {
  const known = new Map<string, Chunk[]>();
  for (const { chunk } of chunks.toReversed()) {
    const same = known.get(chunk.text);
    if (same === undefined) known.set(chunk.text, [chunk]);
    else same.push(chunk);
  }
  return known;
}

function parseChunk(text: string): Chunk {
  const { tokens, problems, lines, docs } = layOut(lex(text), text);
  if (tokens.length === 0) return { text, declaration: undefined, problems: [] };
  const build: Build = { problems, docs };
  const { tree, stuckAt } = parseTokens(tokens);
  const declaration = buildDeclaration(build, tree);
  if (stuckAt !== undefined) report(build, tokenSpan(stuckAt), messages.tooMuch(stuckAt.image));
  return { text, declaration, problems: firstOfEachLine(problems, lines, text.length) };
}

/** One mistake gives one problem: of several on a logical line the first counts. */
function firstOfEachLine(problems: SyntaxProblem[], lines: readonly number[], length: number): SyntaxProblem[] {
  if (problems.length === 0) return problems;
  const sorted = problems.toSorted((a, b) => a.span.start - b.span.start);
  const kept: SyntaxProblem[] = [];
  let line = 0;
  let keptLine = -1;
  for (const problem of sorted) {
    while (line < lines.length && lines[line]! < problem.span.start) line++;
    if (line !== keptLine) kept.push(inside(problem, length));
    keptLine = line;
  }
  return kept;
}

function inside(problem: SyntaxProblem, length: number): SyntaxProblem {
  const { start, end } = problem.span;
  if (start >= 0 && end <= length) return problem;
  const span: Span = { start: Math.min(Math.max(start, 0), length), end: Math.min(Math.max(end, 0), length) };
  return { ...problem, span };
}
