// What every part of the tree builder shares: spans, names, and the list of problems that grows while building.

import type { CstNode, IToken } from 'chevrotain';
import type { Name, Span, SyntaxProblem } from './ast.ts';
import type { PathCstNode } from './cst.generated.ts';
import { messages } from './messages.ts';
import * as t from './tokens.ts';
import { isClauseWord, isKeyword } from './words.ts';

export interface Build {
  readonly problems: SyntaxProblem[];
  /** Text of the `##` lines directly above a token, by the offset of that token. */
  readonly docs: ReadonlyMap<number, string>;
}

export type Fix = NonNullable<SyntaxProblem['fix']>;

export function report(build: Build, span: Span, message: string, fix?: Fix): void {
  const problem = { code: 'syntax', message, span: { start: span.start, end: span.end } } as const;
  build.problems.push(fix === undefined ? problem : { ...problem, fix });
}

export function tokenSpan(token: IToken): Span {
  return { start: token.startOffset, end: token.startOffset + token.image.length };
}

export function nodeSpan(node: CstNode): Span {
  const { startOffset, endOffset } = node.location ?? { startOffset: 0, endOffset: -1 };
  const start = Math.max(startOffset, 0);
  return { start, end: Math.max((endOffset ?? -1) + 1, start) };
}

export function buildName(token: IToken): Name {
  return { ...tokenSpan(token), text: token.image.normalize('NFC') };
}

export function buildNameOf(tokens: readonly IToken[] | undefined): Name | undefined {
  const token = tokens?.[0];
  return token === undefined ? undefined : buildName(token);
}

/** The names of a path; a dot without a name behind it is reported. */
export function buildPath(build: Build, node: Pick<PathCstNode, 'children'>): Name[] {
  const { AnyName: names = [], Dot: dots = [] } = node.children;
  const lastDot = dots.at(-1);
  if (lastDot !== undefined && dots.length >= names.length) report(build, tokenSpan(lastDot), messages.brokenPath);
  return names.map(buildName);
}

export function isComplete(node: Pick<PathCstNode, 'children'>): boolean {
  return (node.children.Dot?.length ?? 0) < (node.children.AnyName?.length ?? 0);
}

export function insertion(offset: number, text: string, shown = text.trim()): Fix {
  return { title: messages.insert(shown), edits: [{ span: { start: offset, end: offset }, text }] };
}

export function replacement(span: Span, text: string): Fix {
  return { title: messages.replace(text.trim()), edits: [{ span: { start: span.start, end: span.end }, text }] };
}

/** Reports a token that has no place where it stands, in the words that fit the token; `otherwise` for the rest. */
export function reportLeftover(build: Build, token: IToken, otherwise: string): void {
  report(build, tokenSpan(token), leftoverMessage(token) ?? otherwise);
}

function leftoverMessage({ tokenType, image }: IToken): string | undefined {
  if (tokenType === t.DateWord) return messages.dateOutside;
  if (tokenType !== t.Stray) return undefined;
  if (image === '}') return messages.strayBrace;
  if (image === ')') return messages.strayParenthesis;
  if (image.startsWith(';')) return messages.semicolon;
  if (/^[%‰°º˚²³]/.test(image)) return messages.unitAlone;
  return /^[\p{Cc}\p{Cf}\p{Cs}\ufffd]+$/u.test(image) ? messages.invisible : messages.stray(image);
}

/** What to say of a token behind a value: it may be a keyword that was meant as one. */
export function behindValue({ image }: IToken): string {
  return isKeyword(image) && !isClauseWord(image) ? messages.keywordAsValue(image) : messages.afterValue(image);
}
