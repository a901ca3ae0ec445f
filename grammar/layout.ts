// Decides what line ends, commas and brackets mean, before the grammar proper sees the tokens.
//
// The parser gets a stream in which every bracket has its partner and every property ends in a separator: what is
// missing is inserted here, without width, and reported once. That confines a mistake to its line.

import type { IToken, TokenType } from 'chevrotain';
import type { SyntaxProblem } from './ast.ts';
import { messages } from './messages.ts';
import * as t from './tokens.ts';
import { isClauseWord } from './words.ts';

export interface Layout {
  readonly tokens: IToken[];
  readonly problems: SyntaxProblem[];
  /** Where logical lines begin, ascending: one problem is reported for each. */
  readonly lines: readonly number[];
  /** Text of the `##` lines directly above a token, by the offset of that token. */
  readonly docs: ReadonlyMap<number, string>;
}

type Bracket = 'block' | 'curve' | 'paren' | 'junk';

interface OpenBracket {
  readonly kind: Bracket;
  readonly token: IToken;
  /** Indentation of the line on which it was opened. */
  readonly indent: number;
}

const NESTING_LIMIT = 20;
const curveWord = t.word('curve');
const columnsWord = t.word('columns');
const takesBlock = new Set(['let', 'use', 'connect', 'require', 'accept']);

/** Lays out the tokens of one chunk. Linear in their number. */
export function layOut(raw: readonly IToken[], text: string): Layout {
  return new LayoutPass(raw, text).run();
}

class LayoutPass {
  readonly #raw: readonly IToken[];
  readonly #text: string;
  readonly #tokens: IToken[] = [];
  readonly #problems: SyntaxProblem[] = [];
  readonly #lines: number[] = [];
  readonly #docs = new Map<number, string>();
  readonly #stack: OpenBracket[] = [];
  /** How many more braces open than close: only then is indentation asked which of them lacks its partner. */
  #surplus = 0;
  #head: string | undefined;
  #blockSeen = false;
  #equalsSeen = false;
  #curvePending = false;
  #parenDepth = 0;
  #lineIndent = 0;
  #brokenText: IToken | undefined;
  #previous: IToken | undefined;

  constructor(raw: readonly IToken[], text: string) {
    this.#raw = raw;
    this.#text = text;
  }

  run(): Layout {
    for (const token of this.#raw) {
      if (token.tokenType === t.BraceOpen) this.#surplus++;
      else if (token.tokenType === t.BraceClose) this.#surplus--;
    }
    let docLines: string[] = [];
    let isLineStart = true;
    let hasLineEnd = false;
    for (let index = 0; index < this.#raw.length; index++) {
      const token = this.#raw[index]!;
      const type = token.tokenType;
      if (type === t.LineEnd) {
        if (isLineStart || countLineEnds(token.image) > 1) docLines = [];
        isLineStart = true;
        hasLineEnd = true;
        continue;
      }
      if (type === t.Comment || type === t.Doc) {
        if (type === t.Doc && isLineStart) docLines.push(token.image.slice(2).trim());
        isLineStart = false;
        continue;
      }
      if (docLines.length > 0) this.#docs.set(token.startOffset, docLines.join('\n'));
      docLines = [];
      if (hasLineEnd || this.#previous === undefined) this.#lineIndent = indentAt(this.#text, token.startOffset);
      if (hasLineEnd && this.#previous !== undefined) this.#endLine(index, token);
      this.#take(index, token, hasLineEnd || this.#previous === undefined);
      this.#previous = token;
      isLineStart = false;
      hasLineEnd = false;
    }
    this.#closeAll();
    return { tokens: this.#tokens, problems: this.#problems, lines: this.#lines, docs: this.#docs };
  }

  /** A line ended between the token before and `next`. */
  #endLine(index: number, next: IToken): void {
    const assignment = this.#isAssignment(index);
    if (assignment || next.tokenType === t.BraceClose) this.#closeParens();
    const before = this.#previous!.tokenType;
    const top = this.#stack.at(-1)?.kind;
    if (top === 'paren' || top === 'junk') return;
    if (before === t.BlockOpen || before === t.CurveOpen || before === t.Comma || before === t.Separator) return;
    if (!assignment && (before === t.Arrow || t.isA(this.#previous, t.Operator))) return;
    if (top === 'curve') {
      if (!assignment && !this.#isRowStart(index)) this.#put(t.RowEnd);
      return;
    }
    if (this.#curvePending && startsPoints(next)) return;
    if (this.#isOpeningHere(index, next, assignment)) return;
    if (this.#isContinuation(index, next)) {
      this.#report(next, messages.lineBeginsWith(next.image), this.#joinFix(next));
      return;
    }
    this.#separate();
  }

  #take(index: number, token: IToken, isFirst: boolean): void {
    const type = token.tokenType;
    if (this.#head === undefined) this.#head = token.image;
    else if (t.isA(token, t.AnyName)) this.#beforeName(index, token, isFirst);
    else if (this.#curvePending && startsPoints(token)) this.#openCurveUnseen(token);
    if (type === t.BraceOpen) return this.#openBrace(token);
    if (type === t.BraceClose) return this.#closeBrace(index, token, isFirst);
    if (this.#stack.at(-1)?.kind === 'junk' && type !== t.Close) return;
    if (type === t.Open) return this.#openParen(token);
    if (type === t.Close) return this.#closeParen(token);
    if (type === t.Comma) return this.#comma(index, token);
    if (type === t.Equals) this.#equalsSeen = true;
    else if (type === curveWord && this.#previous?.tokenType !== t.Dot && !this.#isAssignment(index)) {
      this.#curvePending = true;
    } else if (type === t.Text && isBroken(token)) this.#brokenText = token;
    this.#tokens.push(token);
  }

  /** Repairs what can only be seen when a name comes: an unclosed bracket, a missing comma, a missing brace. */
  #beforeName(index: number, token: IToken, isFirst: boolean): void {
    if (this.#previous?.tokenType === t.Dot) return;
    const top = this.#stack.at(-1)?.kind;
    if (this.#curvePending && token.tokenType === columnsWord) return this.#openCurveUnseen(token);
    if (top === 'curve' && this.#isProvenance(index)) return this.#closeUnseen();
    if (isFirst && this.#isRowStart(index)) return this.#beforeRow();
    if (!this.#isAssignment(index)) return;
    if (top === undefined) {
      if (!this.#blockSeen && !isFirst && this.#takesProperties()) this.#openBlockUnseen();
      return;
    }
    if (top === 'paren') this.#closeParens();
    if (this.#stack.at(-1)?.kind === 'curve') {
      this.#closeUnseen();
      this.#separate();
    } else if (this.#isRowName(token, isFirst)) this.#openBlockUnseen();
    else if (this.#equalsSeen) this.#separateUnseen(token);
  }

  /** `kva350 ac_current = 560 A`: a row of a catalogue whose brace is missing. */
  #isRowName(token: IToken, isFirst: boolean): boolean {
    if (isFirst || this.#head !== 'catalogue' || this.#stack.length !== 1 || this.#equalsSeen) return false;
    const before = this.#tokens.at(-2)?.tokenType;
    return t.isA(this.#previous, t.Tag) && token !== this.#previous && (before === t.Separator || before === t.BlockOpen);
  }

  #beforeRow(): void {
    if (this.#head !== 'catalogue' || this.#stack.length < 2) return;
    while (this.#stack.length > 1) this.#closeUnseen();
    this.#separate();
  }

  #openBrace(token: IToken): void {
    const top = this.#stack.at(-1)?.kind;
    const blocks = this.#stack.length;
    if (top === 'curve' || top === 'paren' || top === 'junk') {
      if (top !== 'junk') this.#report(token, messages.braceInside);
      return this.#push('junk', token);
    }
    if (this.#equalsSeen || this.#curvePending) {
      this.#curvePending = false;
      t.retype(token, t.CurveOpen);
      this.#push('curve', token);
    } else if (blocks >= 2) {
      this.#report(token, messages.braceInside);
      return this.#push('junk', token);
    } else {
      t.retype(token, t.BlockOpen);
      this.#push('block', token);
      this.#startBlock(token);
    }
    this.#tokens.push(token);
  }

  #closeBrace(index: number, token: IToken, isFirst: boolean): void {
    this.#closeParens();
    if (isFirst && this.#surplus > 0) this.#closeByIndent(token);
    const top = this.#stack.at(-1);
    if (top === undefined || (this.#surplus < 0 && this.#stack.length === 1 && this.#isEarly(index))) {
      this.#surplus++;
      t.retype(token, t.Stray);
      if (top !== undefined) {
        this.#report(token, messages.strayBrace);
        return;
      }
      this.#tokens.push(token);
      return;
    }
    this.#stack.pop();
    if (top.kind === 'junk') return;
    t.retype(token, top.kind === 'curve' ? t.CurveClose : t.BlockClose);
    this.#tokens.push(token);
    if (top.kind === 'block') this.#endBlock(token);
  }

  /** The innermost bracket that was opened on a line indented no deeper than this one is its partner. */
  #closeByIndent(token: IToken): void {
    const indent = indentAt(this.#text, token.startOffset);
    if (!this.#stack.some(open => open.indent <= indent)) return;
    while (this.#surplus > 0 && this.#stack.length > 1 && this.#stack.at(-1)!.indent > indent) this.#closeUnseen();
  }

  /** Whether properties follow, so that this brace can't be the one that ends the declaration. */
  #isEarly(index: number): boolean {
    let isLineStart = false;
    for (let next = index + 1; next < this.#raw.length; next++) {
      const token = this.#raw[next]!;
      if (token.tokenType === t.BraceClose) return false;
      if (token.tokenType === t.LineEnd || token.tokenType === t.Comma) isLineStart = true;
      else if (token.tokenType !== t.Comment && token.tokenType !== t.Doc) {
        if (isLineStart) return this.#isAssignment(next);
        isLineStart = false;
      }
    }
    return false;
  }

  #openParen(token: IToken): void {
    this.#parenDepth++;
    if (this.#parenDepth > NESTING_LIMIT) {
      if (this.#parenDepth === NESTING_LIMIT + 1) this.#report(token, messages.tooDeep(NESTING_LIMIT));
      this.#push('junk', token);
      return;
    }
    this.#push('paren', token);
    this.#tokens.push(token);
  }

  #closeParen(token: IToken): void {
    const top = this.#stack.at(-1);
    const isPartner = top?.kind === 'paren' || (top?.kind === 'junk' && top.token.tokenType === t.Open);
    if (!isPartner) {
      if (top?.kind === 'junk') return;
      t.retype(token, t.Stray);
      this.#tokens.push(token);
      return;
    }
    this.#stack.pop();
    this.#parenDepth--;
    if (top.kind === 'paren') this.#tokens.push(token);
  }

  #comma(index: number, token: IToken): void {
    const isAxis = this.#curvePending && !this.#isAssignment(index + 1);
    if (this.#stack.at(-1)?.kind !== 'block' || isAxis) {
      this.#tokens.push(token);
      return;
    }
    const before = this.#previous?.tokenType;
    if (before === t.Separator || before === t.BlockOpen) this.#report(token, messages.emptyBetweenCommas);
    t.retype(token, t.Separator);
    this.#tokens.push(token);
    this.#startLine(token.startOffset);
  }

  /** Parentheses can't reach over the end of a property: what is still open closes here. */
  #closeParens(): void {
    let top = this.#stack.at(-1);
    let reported = this.#parenDepth > NESTING_LIMIT;
    while (top !== undefined && (top.kind === 'paren' || (top.kind === 'junk' && top.token.tokenType === t.Open))) {
      this.#stack.pop();
      this.#parenDepth--;
      if (top.kind === 'paren') this.#put(t.Close);
      if (!reported) this.#report(top.token, messages.unclosedParenthesis);
      reported = true;
      top = this.#stack.at(-1);
    }
  }

  #closeAll(): void {
    let reported = false;
    while (this.#stack.length > 0) {
      const top = this.#stack.at(-1)!;
      if (top.kind === 'paren' || top.token.tokenType === t.Open) {
        this.#closeParens();
        reported = true;
        continue;
      }
      this.#closeUnseen(reported);
      reported = true;
    }
  }

  /** A string without its quote has swallowed the rest of its line, a brace perhaps. */
  #isSwallowed(token: IToken): boolean {
    if (this.#brokenText === undefined) return false;
    return !/[\r\n]/.test(this.#text.slice(token.startOffset, this.#brokenText.startOffset));
  }

  #closeUnseen(quiet = false): void {
    this.#closeParens();
    const top = this.#stack.pop();
    if (top === undefined) return;
    this.#surplus--;
    if (!quiet && !this.#isSwallowed(top.token)) this.#report(top.token, top.kind === 'curve' ? messages.unclosedCurve : messages.unclosedBlock);
    if (top.kind === 'junk') return;
    this.#put(top.kind === 'curve' ? t.CurveClose : t.BlockClose);
    if (top.kind === 'block') this.#endBlock(this.#tokens.at(-1)!);
  }

  #openBlockUnseen(): void {
    this.#surplus++;
    this.#report(this.#previous!, messages.unopenedBlock, this.#insertFix(' {', '{'));
    this.#put(t.BlockOpen);
    const token = this.#tokens.at(-1)!;
    this.#push('block', token);
    this.#startBlock(token);
  }

  #openCurveUnseen(next: IToken): void {
    this.#curvePending = false;
    this.#surplus++;
    this.#report(this.#previous ?? next, messages.unopenedCurve, this.#insertFix(' {', '{'));
    this.#put(t.CurveOpen);
    this.#push('curve', this.#tokens.at(-1)!);
  }

  /** The head of the chunk is complete, and the line that follows belongs into its block. */
  #isOpeningHere(index: number, next: IToken, assignment: boolean): boolean {
    if (this.#stack.length > 0 || this.#blockSeen || !this.#takesProperties()) return false;
    if (next.tokenType === t.BraceOpen) {
      this.#report(next, messages.lineBeginsWith('{'), this.#joinFix(next));
      return true;
    }
    if (!assignment && !(this.#head === 'catalogue' && this.#isRowStart(index))) return false;
    this.#openBlockUnseen();
    return true;
  }

  #isContinuation(index: number, next: IToken): boolean {
    const before = this.#tokens.at(-1)?.tokenType;
    if (before === t.Separator || before === t.BlockOpen) return false;
    if (next.tokenType === t.BraceOpen) return this.#curvePending;
    if (next.tokenType === t.Arrow || next.tokenType === t.Comma || t.isA(next, t.Operator)) return true;
    return isClauseWord(next.image) && next.tokenType !== t.Name && !this.#isAssignment(index);
  }

  #takesProperties(): boolean {
    return this.#head !== undefined && !takesBlock.has(this.#head);
  }

  #separate(): void {
    this.#put(t.Separator);
    this.#startLine(this.#tokens.at(-1)!.startOffset);
  }

  #separateUnseen(token: IToken): void {
    this.#report(token, messages.missingComma(token.image), this.#insertFix(',', ','));
    this.#separate();
  }

  #startBlock(token: IToken): void {
    this.#blockSeen = true;
    this.#startLine(token.startOffset);
  }

  #endBlock(token: IToken): void {
    this.#startLine(token.startOffset);
  }

  #startLine(offset: number): void {
    this.#equalsSeen = false;
    this.#curvePending = false;
    this.#lines.push(offset);
  }

  #push(kind: Bracket, token: IToken): void {
    this.#stack.push({ kind, token, indent: this.#lineIndent });
  }

  /** Inserts a token without width behind the last one. */
  #put(type: TokenType): void {
    this.#tokens.push(t.inserted(type, this.#endOfPrevious()));
    if (type === t.RowEnd) this.#lines.push(this.#endOfPrevious());
  }

  #endOfPrevious(): number {
    const last = this.#previous;
    return last === undefined ? 0 : last.startOffset + last.image.length;
  }

  #report(token: IToken, message: string, fix?: SyntaxProblem['fix']): void {
    const end = Math.max(token.startOffset + token.image.length, token.startOffset);
    const span = { start: token.startOffset, end };
    this.#problems.push(fix === undefined ? { code: 'syntax', message, span } : { code: 'syntax', message, span, fix });
  }

  #insertFix(text: string, shown: string): NonNullable<SyntaxProblem['fix']> {
    const at = this.#endOfPrevious();
    return { title: messages.insert(shown), edits: [{ span: { start: at, end: at }, text }] };
  }

  /** Pulls a line up to the end of the one before, when nothing but blanks stands between. */
  #joinFix(next: IToken): SyntaxProblem['fix'] {
    const start = this.#endOfPrevious();
    const end = next.startOffset;
    if (this.#text.slice(start, end).trim() !== '') return undefined;
    return { title: messages.join, edits: [{ span: { start, end }, text: ' ' }] };
  }

  /** Whether a property begins here: a name or a path, and `=` behind it. */
  #isAssignment(index: number): boolean {
    let at = index;
    while (t.isA(this.#raw[at], t.AnyName)) {
      const next = this.#raw[at + 1]?.tokenType;
      if (next === t.Equals) return true;
      if (next !== t.Dot) return false;
      at += 2;
    }
    return false;
  }

  #isRowStart(index: number): boolean {
    return t.isA(this.#raw[index], t.Tag) && this.#raw[index + 1]?.tokenType === t.BraceOpen;
  }

  #isProvenance(index: number): boolean {
    const word = this.#raw[index]?.image;
    return word === 'assumed' || (word === 'from' && this.#raw[index + 1]?.tokenType === t.Text);
  }
}

function startsPoints(token: IToken): boolean {
  return token.tokenType === t.NumberWord || token.tokenType === columnsWord || t.isA(token, t.Sign);
}

/** A string that ends without its quote. */
export function isBroken(token: IToken): boolean {
  const { image } = token;
  if (!image.startsWith('"')) return false;
  if (image.length < 2 || !image.endsWith('"')) return true;
  const backslashes = /\\*$/.exec(image.slice(1, -1))?.[0].length ?? 0;
  return backslashes % 2 === 1;
}

function countLineEnds(text: string): number {
  return text.match(/\r\n|\r|\n/g)?.length ?? 0;
}

function indentAt(text: string, offset: number): number {
  let start = offset;
  while (start > 0 && text[start - 1] !== '\n' && text[start - 1] !== '\r') start--;
  let end = start;
  while (end < offset && /\s/.test(text[end]!)) end++;
  return end - start;
}
