// Formatting: the one layout, as the smallest edits that lead there, so that the cursor stays where it is.
import type { Chunk, PlacedChunk, SourceTree } from '../../grammar/ast.ts';
import { formatText } from '../../grammar/print.ts';

export interface OffsetEdit {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

export function formatting(text: string): readonly OffsetEdit[] {
  const formatted = formatText(text);
  return formatted === text ? [] : changedLines(text, formatted);
}

/** Of the declarations that a span touches, the lines inside of the span. */
export function rangeFormatting({ text, chunks }: SourceTree, start: number, end: number): readonly OffsetEdit[] {
  const from = text.lastIndexOf('\n', start - 1) + 1;
  const behind = text.indexOf('\n', end);
  const to = behind === -1 ? text.length : behind + 1;
  return chunks
    .filter(placed => placed.start < to && from <= placed.start + placed.chunk.text.trimEnd().length)
    .flatMap(placed => chunkEdits(placed))
    .filter(edit => from <= edit.start && edit.end <= to);
}

/** The edits of one declaration, line by line: the lines with something on them stay as many. */
export function chunkEdits({ start, chunk }: PlacedChunk): readonly OffsetEdit[] {
  const edits = editsWithin.get(chunk) ?? computeEdits(chunk);
  editsWithin.set(chunk, edits);
  return edits.map(edit => ({ ...edit, start: edit.start + start, end: edit.end + start }));
}

/** By chunk, which stays the same object as long as its text does; offsets within it. */
const editsWithin = new WeakMap<Chunk, readonly OffsetEdit[]>();

function computeEdits(chunk: Chunk): readonly OffsetEdit[] {
  if (chunk.problems.length > 0 || chunk.declaration === undefined) return [];
  const formatted = formatText(chunk.text);
  const wanted = splitLines(formatted)
    .map(line => line.trimEnd())
    .filter(line => line !== '');
  let at = 0;
  const old = splitLines(chunk.text).map(line => {
    at += line.length;
    return { at: at - line.length, line };
  });
  const written = old.filter(({ line }) => line.trim() !== '');
  if (written.length !== wanted.length) return wholeChunk(chunk.text, formatted);
  return written.flatMap(({ at, line }, index) => {
    const text = wanted[index]!;
    const kept = line.trimEnd();
    return kept === text ? [] : [{ start: at, end: at + kept.length, text }];
  });
}

function wholeChunk(before: string, formatted: string): readonly OffsetEdit[] {
  const lead = before.length - before.trimStart().length;
  return [{ start: lead, end: before.trimEnd().length, text: formatted.trim() }];
}

/** One edit for each run of lines that differ, as long as the number of lines stays; else one for all between. */
function changedLines(before: string, after: string): readonly OffsetEdit[] {
  const old = splitLines(before);
  const wanted = splitLines(after);
  if (old.length !== wanted.length) return [changedMiddle(before, after)];
  const edits: OffsetEdit[] = [];
  let at = 0;
  for (const [index, line] of old.entries()) {
    const text = wanted[index]!;
    if (line !== text) edits.push({ start: at, end: at + line.length, text });
    at += line.length;
  }
  return edits;
}

function changedMiddle(before: string, after: string): OffsetEdit {
  const shortest = Math.min(before.length, after.length);
  let head = 0;
  while (head < shortest && before[head] === after[head]) head += 1;
  let tail = 0;
  while (tail < shortest - head && before[before.length - 1 - tail] === after[after.length - 1 - tail]) tail += 1;
  // Never between the two halves of a character beyond the basic plane.
  if (isLowHalf(before, head)) head -= 1;
  if (isLowHalf(before, before.length - tail)) tail -= 1;
  return { start: head, end: before.length - tail, text: after.slice(head, after.length - tail) };
}

function isLowHalf(text: string, at: number): boolean {
  const unit = text.charCodeAt(at);
  return unit >= 0xdc00 && unit <= 0xdfff;
}

function splitLines(text: string): readonly string[] {
  return text.split(/(?<=\n)/);
}
