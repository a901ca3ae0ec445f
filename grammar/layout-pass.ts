// The state of laying out one chunk, the ways to add to what comes out, and the looks ahead.

import type { IToken, TokenType } from 'chevrotain';
import type { SyntaxProblem } from './ast.ts';
import { messages } from './messages.ts';
import * as t from './tokens.ts';

export interface Layout {
  readonly tokens: IToken[];
  readonly problems: SyntaxProblem[];
  /** Where logical lines begin, ascending: one problem is reported for each. */
  readonly lines: readonly number[];
  /** Text of the `##` lines directly above a token, by the offset of that token. */
  readonly docs: ReadonlyMap<number, string>;
}

export type Bracket = 'block' | 'curve' | 'paren' | 'junk';

export interface OpenBracket {
  readonly kind: Bracket;
  readonly token: IToken;
  /** Indentation of the line on which it was opened. */
  readonly indent: number;
}

/** What changes while the tokens of a chunk go by. */
export interface Pass {
  readonly raw: readonly IToken[];
  readonly text: string;
  readonly tokens: IToken[];
  readonly problems: SyntaxProblem[];
  readonly lines: number[];
  readonly stack: OpenBracket[];
  /** How many more braces open than close: only then is indentation asked which of them lacks its partner. */
  surplus: number;
  /** The first word of the chunk. */
  head: string | undefined;
  /** The block of the declaration has been opened, and perhaps closed. */
  blockSeen: boolean;
  /** In this logical line. */
  equalsSeen: boolean;
  /** `curve` has been read and its brace not yet. */
  curvePending: boolean;
  parenDepth: number;
  lineIndent: number;
  /** The last text that lacks its closing quote. */
  brokenText: IToken | undefined;
  previous: IToken | undefined;
}

/** Parentheses nested deeper than this are not read, so that no stack overflows. */
export const NESTING_LIMIT = 20;
export const columnsWord: TokenType = t.word('columns');
const withoutBlock = new Set(['let', 'use', 'connect', 'require', 'accept']);

export function startPass(raw: readonly IToken[], text: string): Pass {
  let surplus = 0;
  for (const { tokenType } of raw) {
    if (tokenType === t.BraceOpen) surplus++;
    else if (tokenType === t.BraceClose) surplus--;
  }
  return {
    raw,
    text,
    tokens: [],
    problems: [],
    lines: [],
    stack: [],
    surplus,
    head: undefined,
    blockSeen: false,
    equalsSeen: false,
    curvePending: false,
    parenDepth: 0,
    lineIndent: 0,
    brokenText: undefined,
    previous: undefined,
  };
}

export function startBlock(pass: Pass, token: IToken): void {
  pass.blockSeen = true;
  startLine(pass, token.startOffset);
}

export function startLine(pass: Pass, offset: number): void {
  pass.equalsSeen = false;
  pass.curvePending = false;
  pass.lines.push(offset);
}

export function separate(pass: Pass): void {
  put(pass, t.Separator);
  startLine(pass, pass.tokens.at(-1)!.startOffset);
}

export function push(pass: Pass, kind: Bracket, token: IToken): void {
  pass.stack.push({ kind, token, indent: pass.lineIndent });
}

/** Inserts a token without width behind the last one. */
export function put(pass: Pass, type: TokenType): void {
  pass.tokens.push(t.inserted(type, endOfPrevious(pass)));
  if (type === t.RowEnd) pass.lines.push(endOfPrevious(pass));
}

export function endOfPrevious(pass: Pass): number {
  const last = pass.previous;
  return last === undefined ? 0 : last.startOffset + last.image.length;
}

export function report(pass: Pass, token: IToken, message: string, fix?: SyntaxProblem['fix']): void {
  const end = Math.max(token.startOffset + token.image.length, token.startOffset);
  const span = { start: token.startOffset, end };
  pass.problems.push(fix === undefined ? { code: 'syntax', message, span } : { code: 'syntax', message, span, fix });
}

export function insertFix(pass: Pass, text: string, shown: string): NonNullable<SyntaxProblem['fix']> {
  const at = endOfPrevious(pass);
  return { title: messages.insert(shown), edits: [{ span: { start: at, end: at }, text }] };
}

/** Pulls a line up to the end of the one before, when nothing but blanks stands between. */
export function joinFix(pass: Pass, next: IToken): SyntaxProblem['fix'] {
  const start = endOfPrevious(pass);
  const end = next.startOffset;
  if (pass.text.slice(start, end).trim() !== '') return undefined;
  return { title: messages.join, edits: [{ span: { start, end }, text: ' ' }] };
}

export function takesProperties(pass: Pass): boolean {
  return pass.head !== undefined && !withoutBlock.has(pass.head);
}

/** Whether a property begins here: a name or a path, and `=` behind it. */
export function isAssignment(pass: Pass, index: number): boolean {
  let at = index;
  while (t.isA(pass.raw[at], t.AnyName)) {
    const next = pass.raw[at + 1]?.tokenType;
    if (next === t.Equals) return true;
    if (next !== t.Dot) return false;
    at += 2;
  }
  return false;
}

export function isRowStart(pass: Pass, index: number): boolean {
  return t.isA(pass.raw[index], t.Tag) && pass.raw[index + 1]?.tokenType === t.BraceOpen;
}

export function isProvenance(pass: Pass, index: number): boolean {
  const word = pass.raw[index]?.image;
  return word === 'assumed' || (word === 'from' && pass.raw[index + 1]?.tokenType === t.Text);
}

/** Whether the points of a curve can begin with this token. */
export function startsPoints(token: IToken): boolean {
  return token.tokenType === t.NumberWord || token.tokenType === columnsWord || t.isA(token, t.Sign);
}

export function indentAt(text: string, offset: number): number {
  let start = offset;
  while (start > 0 && text[start - 1] !== '\n' && text[start - 1] !== '\r') start--;
  let end = start;
  while (end < offset && /\s/.test(text[end]!)) end++;
  return end - start;
}
