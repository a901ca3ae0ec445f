// Formatting: the one layout, as the smallest edits that lead there, so that the cursor stays where it is.
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
