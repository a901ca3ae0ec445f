// The one door to the grammar: text in, tree out, whatever the text is.

import { amended } from './amended.ts';
import type { Chunk, PlacedChunk, SourceTree, Span, SyntaxProblem } from './ast.ts';
import { buildDeclaration } from './build-ast.ts';
import { type Build, report, tokenSpan } from './build-base.ts';
import { detached } from './detached.ts';
import { exemplars } from './exemplars.ts';
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
  if (previous === undefined) {
    const starts = splitAtHeads(text);
    // The pieces share one text.
    const chunks = starts.map((start, index) => ({ start, chunk: parseChunk(text.slice(start, starts[index + 1])) }));
    return { text, chunks };
  }
  const old = previous.chunks;
  const ahead = sameAhead(text, previous);
  const { starts, behind } = splitBetween(text, previous, ahead);
  const known = chunksByText(old.slice(ahead, old.length - behind));
  const moved = text.length - previous.text.length;
  const end = behind === 0 ? text.length : old[old.length - behind]!.start + moved;
  const between = starts.map((start, index): PlacedChunk => {
    const part = text.slice(start, starts[index + 1] ?? end);
    const same = known.get(part)?.pop();
    if (same !== undefined) return { start, chunk: same };
    const edited = starts.length === old.length - behind - ahead ? old[ahead + index]!.chunk : undefined;
    // Else it would keep the whole text.
    const own = detached(part);
    return { start, chunk: (edited && amended(edited, own, parseChunk)) ?? parseChunk(own) };
  });
  const after = old.slice(old.length - behind);
  const shifted = moved === 0 ? after : after.map(({ start, chunk }) => ({ start: start + moved, chunk }));
  return { text, chunks: [...old.slice(0, ahead), ...between, ...shifted] };
}

/**
 * How many chunks at the beginning are those of `previous`. What follows the last of these may have become part of it, so
 * one less than have the same text.
 */
function sameAhead(text: string, { text: before, chunks }: SourceTree): number {
  let [least, most] = [0, chunks.length];
  while (least < most) {
    const middle = (least + most + 1) >> 1;
    const end = chunks[middle]?.start ?? before.length;
    // Compared as pieces, which takes a fraction of what `startsWith` does.
    if (text.slice(0, end) === before.slice(0, end)) least = middle;
    else most = middle - 1;
  }
  return Math.max(0, least - 1);
}

/** Where chunks begin behind the first `ahead`, up to where the last `behind` of `previous` follow. */
function splitBetween(text: string, { text: before, chunks }: SourceTree, ahead: number) {
  const moved = text.length - before.length;
  let next = ahead;
  let behind = 0;
  const starts = splitAtHeads(text, chunks[ahead]?.start, start => {
    while (next < chunks.length && chunks[next]!.start < start - moved) next++;
    const isSame = chunks[next]?.start === start - moved && text.slice(start) === before.slice(start - moved);
    if (isSame) behind = chunks.length - next;
    return isSame;
  });
  return { starts, behind };
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

/** Tokens of a declaration of ordinary length: a whole file may be one, and is too much to be held. */
const ordinary = 1000;

function parseChunk(text: string): Chunk {
  const { tokens, problems, lines, docs } = layOut(lex(text), text);
  if (tokens.length === 0) return { text, declaration: undefined, problems: [] };
  const build: Build = { problems, docs };
  const { tree, stuckAt } = parseTokens(tokens);
  if (tokens.length <= ordinary) exemplars.syntax = [tree, tokens];
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
