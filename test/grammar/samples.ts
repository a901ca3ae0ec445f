// The sample files of the grammar's tests, and the small helpers that the tests share.

import { readFileSync } from 'node:fs';
import type { Chunk, SourceTree } from '../../grammar/ast.ts';
import { parse } from '../../grammar/parse.ts';
import { unitText } from '../../grammar/print-tokens.ts';
import { lex } from '../../grammar/tokens.ts';

const read = (name: string): string => readFileSync(new URL(`fixtures/${name}`, import.meta.url), 'utf8');

/** Between them the samples use every construct of the language. */
export const samples = {
  plant: read('valley-station.plant'),
  parts: read('parts.plant'),
  corners: read('corners.plant'),
};

/** A problem with its place in the file rather than in its chunk. */
export interface FoundProblem {
  readonly code: string;
  readonly message: string;
  /** The characters that are marked. */
  readonly marked: string;
  readonly start: number;
  readonly end: number;
}

export function problemsIn(tree: SourceTree): FoundProblem[] {
  return tree.chunks.flatMap(({ start, chunk }) =>
    chunk.problems.map(({ code, message, span }) => ({
      code,
      message,
      marked: chunk.text.slice(span.start, span.end),
      start: start + span.start,
      end: start + span.end,
    })),
  );
}

export const problemsOf = (text: string): FoundProblem[] => problemsIn(parse(text));

/** The only declaration of a text, which must be sound. */
export function declarationOf(text: string) {
  const found = parse(text).chunks.flatMap(({ chunk }) => (chunk.declaration === undefined ? [] : [chunk.declaration]));
  if (found.length !== 1) throw new Error(`${found.length} declarations instead of one in: ${text}`);
  return found[0]!;
}

/** The value of a property, written alone. */
export function valueIn(text: string) {
  const declaration = declarationOf(`grid MAIN {\n  property = ${text}\n}\n`);
  return declaration.type === 'entity' ? declaration.properties[0]?.value : undefined;
}

/** A tree without its places, and with units in the form that the formatter writes. */
export function meaning(node: unknown): unknown {
  if (Array.isArray(node)) return node.map(meaning);
  if (typeof node !== 'object' || node === null) return node;
  const entries = Object.entries(node)
    .filter(([key, value]) => !['start', 'end', 'operatorSpan', 'block'].includes(key) && value !== undefined)
    .map(([key, value]) => [key, key === 'unit' ? unitText(value.text) : meaning(value)]);
  return Object.fromEntries(entries);
}

export const meaningOf = (text: string): unknown => parse(text).chunks.flatMap(meaningOfChunk);

function meaningOfChunk({ chunk }: { chunk: Chunk }): unknown[] {
  if (chunk.problems.length > 0) return [chunk.text.trim()];
  return chunk.declaration === undefined ? [] : [meaning(chunk.declaration)];
}

/** The comments of a file, in order. */
export function commentsOf(text: string): string[] {
  return lex(text)
    .filter(({ image }) => image.startsWith('#'))
    .map(({ image }) => image.trimEnd());
}
