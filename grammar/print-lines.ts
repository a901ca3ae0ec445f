// Lays one sound declaration out in lines: one property a line, or the whole block on one line where it was written so
// and fits.

import type { IToken } from 'chevrotain';
import { alignRows, type Cell } from './print-rows.ts';
import { gap, type Shape, tokenText } from './print-tokens.ts';
import * as t from './tokens.ts';

/** A line without its indentation being applied yet; a blank line has no text. */
export interface Line {
  readonly indent: number;
  text: string;
  comment?: string;
  /** The row of a curve, still to be aligned with its neighbours. */
  readonly cells?: readonly Cell[];
}

type Node = IToken | Group;

interface Group {
  readonly open: IToken;
  readonly nodes: Node[];
  close: IToken | undefined;
  isBroken: boolean;
}

/** Part of a block between two separators, with the comments that belong to it. */
interface Entry {
  readonly nodes: Node[];
  comment: string | undefined;
  /** An own-line comment or a blank line instead of a property. */
  readonly alone: 'comment' | 'blank' | undefined;
}

const columnsWord = t.word('columns');
const WIDTH = 120;
const STEP = 2;
const CONTINUATION = 4;

/** The lines of a declaration, from its tokens after layout.ts has given commas and braces their meaning. */
export function layLines(tokens: readonly IToken[], shape: Shape, separators: ReadonlySet<number>): Line[] {
  const root: Group = { open: tokens[0]!, nodes: [], close: undefined, isBroken: true };
  readNodes(tokens, root);
  const lines: Line[] = [];
  for (const entry of readEntries(root.nodes, separators)) printEntry(lines, entry, 0, shape, separators);
  return lines;
}

/** Nests the tokens by their braces. A group breaks over lines when it was written so, and a table always does. */
function readNodes(tokens: readonly IToken[], root: Group): void {
  const stack: Group[] = [root];
  for (const token of tokens) {
    const top = stack.at(-1)!;
    const type = token.tokenType;
    if (type === t.BlockOpen || type === t.CurveOpen) {
      const group = { open: token, nodes: [], close: undefined, isBroken: false };
      top.nodes.push(group);
      stack.push(group);
    } else if (type === t.BlockClose || type === t.CurveClose) {
      top.close = token;
      stack.pop();
      if (top.isBroken && stack.length > 1) stack.at(-1)!.isBroken = true;
    } else {
      top.nodes.push(token);
      const isTable = type === columnsWord && top.open.tokenType === t.CurveOpen;
      if (isTable || type === t.LineEnd || type === t.Comment || type === t.Doc) top.isBroken = true;
    }
  }
}

function readEntries(nodes: readonly Node[], separators: ReadonlySet<number>): Entry[] {
  const entries: Entry[] = [];
  let current: Node[] = [];
  let isFresh = true;
  let end = -1;
  const lastOfCode = nodes.findLastIndex(node => !isTrivia(node));
  const finish = (): void => {
    if (current.length > 0) entries.push({ nodes: current, comment: undefined, alone: undefined });
    current = [];
  };
  for (const [index, node] of nodes.entries()) {
    const type = isGroup(node) ? undefined : node.tokenType;
    if (!isGroup(node) && (type === t.Comment || type === t.Doc)) {
      if (current.length > 0 && separators.has(end)) finish();
      const last = entries.at(-1);
      if (current.length > 0 && index <= lastOfCode) current.push(node);
      else if (isFresh) entries.push({ nodes: [node], comment: undefined, alone: 'comment' });
      else if (current.length > 0) {
        const entry: Entry = { nodes: current, comment: tokenText(node), alone: undefined };
        entries.push(entry);
        current = [];
      } else if (last !== undefined && last.alone === undefined) last.comment = tokenText(node);
      else entries.push({ nodes: [node], comment: undefined, alone: 'comment' });
    } else if (!isGroup(node) && type === t.LineEnd) {
      if (current.length > 0 && (separators.has(end) || index > lastOfCode)) finish();
      else if (current.length > 0) current.push(node);
      if (current.length === 0 && isBlankLine(node) && entries.length > 0) {
        if (entries.at(-1)?.alone !== 'blank') entries.push({ nodes: [], comment: undefined, alone: 'blank' });
      }
      isFresh = true;
      continue;
    } else if (type === t.Separator) finish();
    else current.push(node);
    isFresh = false;
    if (isGroup(node)) end = node.close === undefined ? -1 : node.close.startOffset + 1;
    else if (type !== t.Comment && type !== t.Doc) end = node.startOffset + node.image.length;
  }
  finish();
  while (entries.at(-1)?.alone === 'blank') entries.pop();
  return entries;
}

function isTrivia(node: Node): boolean {
  if (isGroup(node)) return false;
  return node.tokenType === t.LineEnd || node.tokenType === t.Comment || node.tokenType === t.Doc;
}

function isBlankLine(token: IToken): boolean {
  return (token.image.match(/\r\n|\r|\n/g)?.length ?? 0) > 1;
}

function printEntry(lines: Line[], entry: Entry, indent: number, shape: Shape, separators: ReadonlySet<number>): void {
  const first = entry.nodes[0];
  if (entry.alone === 'blank') lines.push({ indent: 0, text: '' });
  else if (entry.alone === 'comment' && first !== undefined && !isGroup(first)) {
    lines.push({ indent, text: tokenText(first) });
  } else {
    breakWhatIsTooWide(entry.nodes, indent, shape);
    const printer = new EntryPrinter(lines, indent, shape, separators);
    printer.print(entry.nodes);
    if (entry.comment !== undefined) lines.at(-1)!.comment = entry.comment;
  }
}

/** Breaks the outermost group that was written on one line, where the line would be too wide. */
function breakWhatIsTooWide(nodes: readonly Node[], indent: number, shape: Shape): void {
  const groups = nodes.filter(isGroup);
  const flat = groups.filter(group => !group.isBroken && group.nodes.length > 0);
  if (flat.length === 0 || groups.length > flat.length) return;
  const width = indent + flatText(nodes, shape).length;
  const last = flat.at(-1);
  if (width > WIDTH && last !== undefined) last.isBroken = true;
}

class EntryPrinter {
  readonly #lines: Line[];
  readonly #indent: number;
  readonly #shape: Shape;
  readonly #separators: ReadonlySet<number>;
  #text = '';
  #lineIndent: number;
  #history: IToken[] = [];

  constructor(lines: Line[], indent: number, shape: Shape, separators: ReadonlySet<number>) {
    this.#lines = lines;
    this.#indent = indent;
    this.#lineIndent = indent;
    this.#shape = shape;
    this.#separators = separators;
  }

  print(nodes: readonly Node[]): void {
    for (const node of nodes) {
      if (isGroup(node)) this.#group(node);
      else if (node.tokenType === t.LineEnd) this.#break();
      else if (node.tokenType === t.Comment || node.tokenType === t.Doc) this.#comment(node);
      else this.#token(node);
    }
    this.#end();
  }

  #token(token: IToken): void {
    if (this.#text === '' && token.tokenType === t.Close) this.#lineIndent = this.#indent;
    this.#text += (this.#text === '' ? '' : this.#gapBefore(token)) + tokenText(token);
    this.#history.push(token);
  }

  #gapBefore(token: IToken): string {
    const left = this.#history.at(-1);
    return left === undefined ? '' : gap(this.#shape, left, token, this.#history.at(-2), this.#history.at(-3));
  }

  #group(group: Group): void {
    const space = this.#text === '' ? '' : ' ';
    if (!group.isBroken) {
      this.#text += space + groupText(group, this.#shape);
      this.#history.push(group.close ?? group.open);
      return;
    }
    const entries = group.open.tokenType === t.CurveOpen ? [] : readEntries(group.nodes, this.#separators);
    this.#text += `${space}{`;
    const opening = this.#end();
    const from = this.#lines.length;
    if (group.open.tokenType === t.CurveOpen) {
      const rows = readRows(group.nodes, this.#shape, this.#indent + STEP);
      if (rows.opening !== undefined) opening.comment = rows.opening;
      this.#lines.push(...alignRows(rows.lines));
    } else {
      const isFirstOnOpening = startsWithComment(group.nodes);
      for (const [index, entry] of entries.entries()) {
        const node = entry.nodes[0];
        if (index === 0 && isFirstOnOpening && node !== undefined && !isGroup(node)) opening.comment = tokenText(node);
        else printEntry(this.#lines, entry, this.#indent + STEP, this.#shape, this.#separators);
      }
    }
    while (this.#lines.length > from && this.#lines[from]?.text === '') this.#lines.splice(from, 1);
    this.#lineIndent = this.#indent;
    this.#text = '}';
    this.#history.push(group.close ?? group.open);
    if (this.#lines.length === from && opening.comment === undefined) {
      this.#lines.pop();
      this.#text = `${opening.text}}`;
      this.#lineIndent = opening.indent;
    }
  }

  #comment(token: IToken): void {
    const last = this.#lines.at(-1);
    if (this.#text === '' && last !== undefined) this.#lines.push({ indent: this.#lineIndent, text: tokenText(token) });
    else this.#end().comment = tokenText(token);
    this.#lineIndent = this.#indent + CONTINUATION;
  }

  #break(): void {
    if (this.#text !== '') this.#end();
    this.#lineIndent = this.#indent + CONTINUATION;
  }

  #end(): Line {
    const line: Line = { indent: this.#lineIndent, text: this.#text };
    if (this.#text !== '') this.#lines.push(line);
    this.#text = '';
    return line;
  }
}

/** Whether a comment stands behind the opening brace, on its line. */
function startsWithComment(nodes: readonly Node[]): boolean {
  const first = nodes[0];
  return first !== undefined && !isGroup(first) && (first.tokenType === t.Comment || first.tokenType === t.Doc);
}

/** The points of a curve that stands over several lines: a line for each row. */
function readRows(
  nodes: readonly Node[],
  shape: Shape,
  indent: number,
): { opening: string | undefined; lines: Line[] } {
  const tokens = nodes.filter(node => isToken(node));
  const inside = readInsides(tokens, shape);
  const lines: Line[] = [];
  let opening: string | undefined;
  let row: (Line & { readonly cells: Cell[] }) | undefined;
  let isFresh = false;
  let isBlankBefore = false;
  const add = (line: Line): void => {
    if (isBlankBefore && lines.length > 0) lines.push({ indent: 0, text: '' });
    isBlankBefore = false;
    lines.push(line);
  };
  for (const [index, token] of tokens.entries()) {
    const type = token.tokenType;
    const beginsRow = startsRow(token, shape);
    if (type === t.LineEnd) {
      isFresh = true;
      if (isBlankLine(token) && !inside[index] === true) isBlankBefore = true;
    } else if (type === t.Comment || type === t.Doc) {
      const comment = tokenText(token);
      if (row !== undefined && inside[index] === true) keepComment(lines, row, comment);
      else if (!isFresh && row !== undefined) keepComment(lines, row, comment);
      else if (!isFresh && lines.length === 0) opening = comment;
      else add({ indent, text: comment });
    } else if (type !== t.Comma) {
      if (beginsRow) {
        row = { indent, text: ' ', cells: [] };
        add(row);
      }
      if (beginsRow || type === t.NumberWord || t.isA(token, t.Sign)) startCell(row?.cells ?? []);
      addToCell(row?.cells ?? [], token);
      isFresh = false;
    }
  }
  return { opening, lines };
}

function startsRow(token: IToken, shape: Shape): boolean {
  return shape.rowStarts.has(token.startOffset) || token.tokenType === columnsWord;
}

/** For each token whether its row goes on behind it. */
function readInsides(tokens: readonly IToken[], shape: Shape): boolean[] {
  const inside: boolean[] = new Array(tokens.length).fill(false);
  for (let index = tokens.length - 2; index >= 0; index--) {
    const next = tokens[index + 1]!;
    inside[index] = isTrivia(next) || next.tokenType === t.Comma ? inside[index + 1]! : !startsRow(next, shape);
  }
  return inside;
}

/** A row has room for one comment: earlier ones move above it. */
function keepComment(lines: Line[], row: Line, comment: string): void {
  if (row.comment !== undefined) lines.splice(lines.indexOf(row), 0, { indent: row.indent, text: row.comment });
  row.comment = comment;
}

/** A number begins a new cell, unless its sign has begun it already. */
function startCell(cells: Cell[]): void {
  const last = cells.at(-1);
  if (last?.isOpen === true && last.text !== 'columns') return;
  cells.push({ text: '', isOpen: true });
}

function addToCell(cells: Cell[], token: IToken): void {
  const last = cells.at(-1);
  if (last === undefined) return;
  const isUnit = token.tokenType === t.Unit;
  last.text += (isUnit ? ' ' : '') + tokenText(token);
  last.isOpen = t.isA(token, t.Sign) || token.tokenType === columnsWord;
}

function groupText(group: Group, shape: Shape): string {
  const inner = group.open.tokenType === t.CurveOpen ? curveText(group.nodes, shape) : flatText(group.nodes, shape);
  return inner === '' ? '{}' : `{ ${inner} }`;
}

/** Rows with commas between them, whether or not the author wrote them. */
function curveText(nodes: readonly Node[], shape: Shape): string {
  const { lines } = readRows(nodes, shape, 0);
  return lines.map(({ cells }) => (cells ?? []).map(cell => cell.text).join(' ')).join(', ');
}

function flatText(nodes: readonly Node[], shape: Shape): string {
  let text = '';
  const history: IToken[] = [];
  const items = nodes.filter(node => isGroup(node) || node.tokenType !== t.LineEnd);
  // A comma before the closing brace means nothing.
  const last = items.at(-1);
  if (last !== undefined && !isGroup(last) && last.tokenType === t.Separator) items.pop();
  for (const node of items) {
    if (isGroup(node)) {
      text += (text === '' ? '' : ' ') + groupText(node, shape);
      history.push(node.close ?? node.open);
      continue;
    }
    const left = history.at(-1);
    text += left === undefined ? '' : gap(shape, left, node, history.at(-2), history.at(-3));
    text += tokenText(node);
    history.push(node);
  }
  return text;
}

function isGroup(node: Node): node is Group {
  return 'nodes' in node;
}

function isToken(node: Node): node is IToken {
  return !isGroup(node);
}
