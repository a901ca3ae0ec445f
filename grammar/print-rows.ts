// Aligns the rows of a curve: numbers at their decimal points, units below units.

import type { Line } from './print-lines.ts';

/** One number of a row with its unit, or the word `columns`. */
export interface Cell {
  text: string;
  /** A sign or the word `columns` stands there and the number has not come yet. */
  isOpen: boolean;
}

/** Gives the rows among the lines their text; other lines stay as they are. */
export function alignRows(lines: readonly Line[]): Line[] {
  const rows = lines.flatMap(({ cells }) => (cells === undefined ? [] : [columnsOf(cells)]));
  const count = Math.max(0, ...rows.map(row => row.length));
  const widths = Array.from({ length: count }, (_, column) => widthsOf(rows.map(row => row[column] ?? '')));
  return lines.map(line => {
    if (line.cells === undefined) return line;
    const texts = columnsOf(line.cells).map((text, column) => padded(text, widths[column]!));
    const [x = '', ...y] = texts;
    const text = `${x}  ${y.map((cell, index) => (index < y.length - 1 ? withComma(cell) : cell)).join(' ')}`.trimEnd();
    return { ...line, text };
  });
}

/** `columns` takes the place of x in the row that it begins. */
function columnsOf(cells: readonly Cell[]): string[] {
  return cells.map(cell => cell.text);
}

interface Widths {
  readonly whole: number;
  readonly rest: number;
}

function widthsOf(texts: readonly string[]): Widths {
  const parts = texts.filter(text => text !== 'columns').map(partsOf);
  const whole = Math.max(0, ...parts.map(part => part.whole.length));
  const rest = Math.max(0, ...parts.map(part => part.rest.length));
  const isHeaded = texts.includes('columns');
  return { whole, rest: isHeaded ? Math.max(rest, 'columns'.length - whole) : rest };
}

function padded(text: string, { whole, rest }: Widths): string {
  if (text === 'columns') return text.padEnd(whole + rest);
  const parts = partsOf(text);
  return parts.whole.padStart(whole) + parts.rest.padEnd(rest);
}

/** The digits before the point, and everything from the point on. */
function partsOf(text: string): { readonly whole: string; readonly rest: string } {
  const whole = /^[-+]?[\d_]*/.exec(text)?.[0] ?? '';
  return { whole, rest: text.slice(whole.length) };
}

/** Puts the comma behind the text rather than behind its padding. */
function withComma(cell: string): string {
  const text = cell.trimEnd();
  return `${text},${cell.slice(text.length)}`;
}
