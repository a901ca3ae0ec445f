// Turns offsets into lines and columns and back; everything inside counts offsets, only the edges count lines.

/** Both from 0, the column in UTF-16 code units. */
export interface LinePosition {
  readonly line: number;
  readonly column: number;
}

/** The starts of all lines of a text, the first one included. */
export interface LineIndex {
  readonly text: string;
  readonly starts: readonly number[];
}

export function indexLines(text: string): LineIndex {
  const starts = [0];
  for (let end = text.indexOf('\n'); end !== -1; end = text.indexOf('\n', end + 1)) starts.push(end + 1);
  return { text, starts };
}

/** The position of an offset; one outside the text counts as its nearest end. */
export function positionAt(lines: LineIndex, offset: number): LinePosition {
  const inside = Math.max(0, Math.min(offset, lines.text.length));
  let low = 0;
  let high = lines.starts.length;
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    if (lines.starts[middle]! <= inside) low = middle;
    else high = middle;
  }
  return { line: low, column: inside - lines.starts[low]! };
}

/** The offset of a position; a line or column outside the text counts as the nearest inside. */
export function offsetAt(lines: LineIndex, position: LinePosition): number {
  if (position.line < 0) return 0;
  const start = lines.starts[position.line];
  if (start === undefined) return lines.text.length;
  return Math.min(start + Math.max(0, position.column), start + lineText(lines, position.line).length);
}

/** A line without its end. */
export function lineText(lines: LineIndex, line: number): string {
  const start = lines.starts[line];
  if (start === undefined) return '';
  const next = lines.starts[line + 1];
  const text = lines.text.slice(start, next === undefined ? undefined : next - 1);
  return text.endsWith('\r') ? text.slice(0, -1) : text;
}
