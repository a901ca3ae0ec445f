// What each word and sign of a file is, for colouring it: works on any text, sound or not.

import type { IToken } from 'chevrotain';
import type { Span } from './ast.ts';
import * as t from './tokens.ts';
import { isHead, isKeyword, isKind } from './words.ts';

export type TokenKind =
  | 'comment'
  | 'doc'
  | 'kind'
  | 'keyword'
  /** The name that a declaration gives. */
  | 'declared'
  | 'property'
  /** A name that stands for something: a tag, a let, a part or a choice. */
  | 'reference'
  | 'function'
  | 'number'
  | 'unit'
  | 'date'
  | 'string'
  | 'operator'
  | 'punctuation'
  | 'stray';

export interface ColouredToken extends Span {
  readonly kind: TokenKind;
}

const plain: ReadonlyMap<unknown, TokenKind> = new Map<unknown, TokenKind>([
  [t.Comment, 'comment'],
  [t.Doc, 'doc'],
  [t.NumberWord, 'number'],
  [t.Unit, 'unit'],
  [t.DateWord, 'date'],
  [t.Text, 'string'],
  [t.Arrow, 'operator'],
  [t.Equals, 'operator'],
  [t.Stray, 'stray'],
]);

const declaring = new Set(['let', 'case', 'as']);

/** The tokens of a text in order, blanks and line ends left out. Never throws. */
export function tokenize(text: string): ColouredToken[] {
  const tokens = t.lex(text).filter(({ tokenType }) => tokenType !== t.LineEnd);
  return tokens.map((token, index) => ({
    start: token.startOffset,
    end: token.startOffset + token.image.length,
    kind: kindOf(tokens, index, token),
  }));
}

function kindOf(tokens: readonly IToken[], index: number, token: IToken): TokenKind {
  const known = plain.get(token.tokenType);
  if (known !== undefined) return known;
  if (t.isA(token, t.Operator)) return 'operator';
  return t.isA(token, t.AnyName) ? nameKind(tokens, index, token) : 'punctuation';
}

function nameKind(tokens: readonly IToken[], index: number, token: IToken): TokenKind {
  const before = tokens[index - 1];
  const next = tokens[index + 1];
  if (next?.tokenType === t.Equals) return before?.image === 'let' ? 'declared' : 'property';
  if (before?.tokenType === t.Dot) return 'property';
  if (isKind(token.image)) return 'kind';
  if (isKeyword(token.image)) return 'keyword';
  const beforeThat = tokens[index - 2]?.image ?? '';
  const isDeclared = before !== undefined && (isKind(before.image) || declaring.has(before.image));
  if (isDeclared && !(isHead(beforeThat) && isKind(beforeThat))) return 'declared';
  if (token.tokenType !== t.Name) return freeWord(token, before);
  if (next?.tokenType === t.Open) return 'function';
  if (next?.tokenType === t.BraceOpen && before?.image !== 'is' && before?.tokenType !== t.Dot)
    return rowOrValue(before);
  return 'reference';
}

/** `kva350 { … }` declares a row; `curve soc { … }` and `is Part { … }` don't. */
function rowOrValue(before: IToken | undefined): TokenKind {
  const isRow = before === undefined || before.tokenType === t.BraceOpen || before.tokenType === t.BraceClose;
  return isRow ? 'declared' : 'reference';
}

/** `log`, `columns` and `to` are words of the language only in their places. */
function freeWord(token: IToken, before: IToken | undefined): TokenKind {
  if (token.image === 'columns') return before?.tokenType === t.BraceOpen ? 'keyword' : 'reference';
  if (token.image === 'to') return before?.image === 'up' || before?.image === 'down' ? 'keyword' : 'reference';
  return 'keyword';
}
