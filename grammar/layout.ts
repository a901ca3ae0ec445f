// Decides what line ends, commas and brackets mean, before the grammar proper sees the tokens.
//
// The parser gets a stream in which every bracket has its partner and every property ends in a separator: what is
// missing is inserted, without width, and reported once. That confines a mistake to its line.

import type { IToken } from 'chevrotain';
import * as p from './layout-pass.ts';
import * as r from './layout-repair.ts';
import { messages } from './messages.ts';
import * as t from './tokens.ts';
import { isClauseWord } from './words.ts';

const curveWord = t.word('curve');

/** Lays out the tokens of one chunk; commas and braces among `raw` are retyped in place. Linear in their number. */
export function layOut(raw: readonly IToken[], text: string): p.Layout {
  const pass = p.startPass(raw, text);
  let hasLineEnd = true;
  for (let index = 0; index < raw.length; index++) {
    const token = raw[index]!;
    const type = token.tokenType;
    if (type === t.LineEnd) hasLineEnd = true;
    if (type === t.LineEnd || type === t.Comment || type === t.Doc) continue;
    if (hasLineEnd) {
      pass.lineIndent = p.indentAt(text, token.startOffset);
      if (pass.previous !== undefined) endLine(pass, index, token);
    }
    take(pass, index, token, hasLineEnd);
    pass.previous = token;
    hasLineEnd = false;
  }
  r.closeAll(pass);
  return { tokens: pass.tokens, problems: pass.problems, lines: pass.lines, docs: readDocs(raw) };
}

/** The `##` lines directly above each token, by its offset. */
function readDocs(raw: readonly IToken[]): Map<number, string> {
  const docs = new Map<number, string>();
  let lines: string[] = [];
  let isLineStart = true;
  for (const { tokenType: type, image, startOffset } of raw) {
    if (type === t.LineEnd) {
      if (isLineStart || countLineEnds(image) > 1) lines = [];
      isLineStart = true;
      continue;
    }
    if (type === t.Doc && isLineStart) lines.push(image.slice(2).trim());
    else if (type !== t.Comment && type !== t.Doc) {
      if (lines.length > 0) docs.set(startOffset, lines.join('\n'));
      lines = [];
    }
    isLineStart = false;
  }
  return docs;
}

/** A line ended between the token before and `next`. */
function endLine(pass: p.Pass, index: number, next: IToken): void {
  const assignment = p.isAssignment(pass, index);
  if (assignment) r.closeValue(pass);
  else if (next.tokenType === t.BraceClose) r.closeParens(pass);
  const before = pass.previous!.tokenType;
  const top = pass.stack.at(-1)?.kind;
  if (top === 'paren' || top === 'junk') return;
  if (before === t.BlockOpen || before === t.CurveOpen || before === t.Comma || before === t.Separator) return;
  if (!assignment && (before === t.Arrow || t.isA(pass.previous, t.Operator))) return;
  if (top === 'curve') {
    if (!p.isRowStart(pass, index)) p.put(pass, t.RowEnd);
    return;
  }
  if (pass.curvePending && p.startsPoints(next)) return;
  if (isOpeningHere(pass, index, next, assignment)) return;
  if (isContinuation(pass, index, next)) {
    p.report(pass, next, messages.lineBeginsWith(next.image), p.joinFix(pass, next));
    return;
  }
  p.separate(pass);
}

function take(pass: p.Pass, index: number, token: IToken, isFirst: boolean): void {
  const type = token.tokenType;
  if (pass.head === undefined) pass.head = token.image;
  else if (t.isA(token, t.AnyName)) beforeName(pass, index, token, isFirst);
  else if (pass.curvePending && p.startsPoints(token)) r.openCurveUnseen(pass, token);
  if (type === t.BraceOpen) openBrace(pass, token);
  else if (type === t.BraceClose) closeBrace(pass, index, token, isFirst);
  else if (type === t.Open) openParen(pass, token);
  else if (type === t.Close) closeParen(pass, token);
  else if (pass.stack.at(-1)?.kind !== 'junk') takeOther(pass, index, token);
}

function takeOther(pass: p.Pass, index: number, token: IToken): void {
  const type = token.tokenType;
  if (type === t.Comma && pass.stack.at(-1)?.kind === 'block') takeComma(pass, index, token);
  else pass.tokens.push(token);
  if (type === t.Equals) pass.equalsSeen = true;
  else if (type === t.Text && t.isBroken(token)) pass.brokenText = token;
  else if (type === curveWord && mayBeginCurve(pass, index)) pass.curvePending = true;
}

function mayBeginCurve(pass: p.Pass, index: number): boolean {
  const top = pass.stack.at(-1)?.kind;
  const isValue = top === undefined || top === 'block';
  return isValue && pass.previous?.tokenType !== t.Dot && !p.isAssignment(pass, index);
}

/** Repairs what can only be seen when a name comes: an unclosed bracket, a missing comma, a missing brace. */
function beforeName(pass: p.Pass, index: number, token: IToken, isFirst: boolean): void {
  if (pass.previous?.tokenType === t.Dot) return;
  const top = pass.stack.at(-1)?.kind;
  if (pass.curvePending && token.tokenType === p.columnsWord) r.openCurveUnseen(pass, token);
  else if (top === 'curve' && p.isProvenance(pass, index)) r.closeUnseen(pass);
  else if (isFirst && p.isRowStart(pass, index)) beforeRow(pass);
  else if (!p.isAssignment(pass, index)) return;
  else if (top !== undefined) beforeProperty(pass, token, isFirst);
  else if (!pass.blockSeen && !isFirst && p.takesProperties(pass)) r.openBlockUnseen(pass);
}

function beforeProperty(pass: p.Pass, token: IToken, isFirst: boolean): void {
  if (r.closeValue(pass)) p.separate(pass);
  else if (pass.stack.at(-1)?.kind === 'junk') return;
  else if (isRowName(pass, token, isFirst)) r.openBlockUnseen(pass);
  else if (pass.equalsSeen) r.separateUnseen(pass, token);
}

/** `kva350 ac_current = 560 A`: a row of a catalogue whose brace is missing. */
function isRowName(pass: p.Pass, token: IToken, isFirst: boolean): boolean {
  if (isFirst || pass.head !== 'catalogue' || pass.stack.length !== 1 || pass.equalsSeen) return false;
  const before = pass.tokens.at(-2)?.tokenType;
  return t.isA(pass.previous, t.Tag) && token !== pass.previous && (before === t.Separator || before === t.BlockOpen);
}

function beforeRow(pass: p.Pass): void {
  if (pass.head !== 'catalogue' || pass.stack.length < 2) return;
  while (pass.stack.length > 1) r.closeUnseen(pass);
  p.separate(pass);
}

function openBrace(pass: p.Pass, token: IToken): void {
  const top = pass.stack.at(-1)?.kind;
  const isValue = pass.equalsSeen || pass.curvePending;
  if ((top !== undefined && top !== 'block') || (!isValue && pass.stack.length >= 2)) {
    if (top !== 'junk') p.report(pass, token, messages.braceInside);
    pass.curvePending = false;
    p.push(pass, 'junk', token);
    return;
  }
  t.retype(token, isValue ? t.CurveOpen : t.BlockOpen);
  p.push(pass, isValue ? 'curve' : 'block', token);
  pass.curvePending = false;
  if (!isValue) p.startBlock(pass, token);
  pass.tokens.push(token);
}

function closeBrace(pass: p.Pass, index: number, token: IToken, isFirst: boolean): void {
  r.closeParens(pass);
  if (isFirst && pass.surplus > 0) r.closeByIndent(pass, token);
  const top = pass.stack.at(-1);
  if (top === undefined || (pass.surplus < 0 && pass.stack.length === 1 && isEarly(pass, index))) {
    pass.surplus++;
    t.retype(token, t.Stray);
    if (top !== undefined) {
      p.report(pass, token, messages.strayBrace);
      return;
    }
    pass.tokens.push(token);
    return;
  }
  pass.stack.pop();
  if (top.kind === 'junk') return;
  t.retype(token, top.kind === 'curve' ? t.CurveClose : t.BlockClose);
  pass.tokens.push(token);
  if (top.kind === 'block') p.startLine(pass, token.startOffset);
}

/** Whether properties follow, so that this brace can't be the one that ends the declaration. */
function isEarly(pass: p.Pass, index: number): boolean {
  let isLineStart = false;
  for (let next = index + 1; next < pass.raw.length; next++) {
    const token = pass.raw[next]!;
    if (token.tokenType === t.BraceClose) return false;
    if (token.tokenType === t.LineEnd || token.tokenType === t.Comma) isLineStart = true;
    else if (token.tokenType !== t.Comment && token.tokenType !== t.Doc) {
      if (isLineStart) return p.isAssignment(pass, next);
      isLineStart = false;
    }
  }
  return false;
}

function openParen(pass: p.Pass, token: IToken): void {
  pass.parenDepth++;
  const isDeep = pass.parenDepth > p.NESTING_LIMIT;
  if (isDeep && pass.stack.at(-1)?.kind !== 'junk')
    p.report(pass, pass.stack.at(-1)?.token ?? token, messages.tooDeep(p.NESTING_LIMIT));
  if (isDeep || pass.stack.at(-1)?.kind === 'junk') {
    p.push(pass, 'junk', token);
    return;
  }
  p.push(pass, 'paren', token);
  pass.tokens.push(token);
}

function closeParen(pass: p.Pass, token: IToken): void {
  const top = pass.stack.at(-1);
  const isPartner = top?.kind === 'paren' || (top?.kind === 'junk' && top.token.tokenType === t.Open);
  if (!isPartner) {
    if (top?.kind === 'junk') return;
    t.retype(token, t.Stray);
    pass.tokens.push(token);
    return;
  }
  pass.stack.pop();
  pass.parenDepth--;
  if (top.kind === 'paren') pass.tokens.push(token);
}

/** In a block a comma ends a property, unless it parts the axes of a curve. */
function takeComma(pass: p.Pass, index: number, token: IToken): void {
  pass.tokens.push(token);
  if (pass.curvePending && !p.isAssignment(pass, index + 1)) return;
  const isFirstOfRun = !endsProperty(pass.tokens.at(-3));
  const isEmpty =
    pass.previous?.tokenType === t.BlockOpen || (pass.previous?.tokenType === t.Separator && isFirstOfRun);
  if (isEmpty) p.report(pass, token, messages.emptyBetweenCommas);
  t.retype(token, t.Separator);
  p.startLine(pass, token.startOffset);
}

function endsProperty(token: IToken | undefined): boolean {
  return token?.tokenType === t.Separator || token?.tokenType === t.BlockOpen;
}

/** The head of the chunk is complete, and the line that follows belongs into its block. */
function isOpeningHere(pass: p.Pass, index: number, next: IToken, assignment: boolean): boolean {
  if (pass.stack.length > 0 || pass.blockSeen || !p.takesProperties(pass)) return false;
  if (next.tokenType === t.BraceOpen) {
    p.report(pass, next, messages.lineBeginsWith('{'), p.joinFix(pass, next));
    return true;
  }
  if (!assignment && !(pass.head === 'catalogue' && p.isRowStart(pass, index))) return false;
  r.openBlockUnseen(pass);
  return true;
}

function isContinuation(pass: p.Pass, index: number, next: IToken): boolean {
  const before = pass.tokens.at(-1)?.tokenType;
  if (before === t.Separator || before === t.BlockOpen) return false;
  if (next.tokenType === t.BraceOpen) return pass.curvePending;
  if (before === t.Equals && !t.isA(next, t.AnyName) && next.tokenType !== t.BraceClose) return true;
  if (next.tokenType === t.Arrow || next.tokenType === t.Comma || t.isA(next, t.Operator)) return true;
  return isClauseWord(next.image) && next.tokenType !== t.Name && !p.isAssignment(pass, index);
}

function countLineEnds(text: string): number {
  return text.match(/\r\n|\r|\n/g)?.length ?? 0;
}
