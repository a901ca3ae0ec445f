// A line of the source with a marker under the part that is meant.
import { harmless, type Style } from '../terminal.ts';

/** Longer lines are cut around the marker. */
const widest = 110;
const before = 40;

export interface MarkedLine {
  readonly text: string;
  /** From 1. */
  readonly line: number;
  /** From 0, in UTF-16 code units; `end` may lie beyond the line. */
  readonly start: number;
  readonly end: number;
}

/** Two lines: `  12 | voltage = 400 A` and the marker below. */
export function showSourceLine(marked: MarkedLine, mark: (text: string) => string, style: Style): string {
  const { text, line, start, end } = cut(marked);
  const margin = String(line).padStart(4);
  const bar = style.colour('grey', '|');
  const lead = ' '.repeat(width(text.slice(0, start)));
  const marker = '^'.repeat(Math.max(1, width(text.slice(start, end))));
  return `${style.colour('grey', margin)} ${bar} ${shown(text)}\n     ${bar} ${lead}${mark(marker)}`;
}

function cut(marked: MarkedLine): MarkedLine {
  const end = Math.min(marked.end, marked.text.length);
  if (marked.text.length <= widest) return { ...marked, end };
  const from = Math.max(0, marked.start - before);
  const to = from + widest;
  const text = `${from > 0 ? '…' : ''}${marked.text.slice(from, to)}${to < marked.text.length ? '…' : ''}`;
  const shift = from > 0 ? from - 1 : 0;
  return { text, line: marked.line, start: marked.start - shift, end: Math.min(end, to) - shift };
}

function shown(text: string): string {
  return harmless(text.replaceAll('\t', '  '));
}

/** Columns on the screen: marks that stand on other letters take none, a surrogate pair takes one. */
function width(text: string): number {
  return [...shown(text).replace(/\p{Mark}/gu, '')].length;
}
