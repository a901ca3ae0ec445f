// What layout.ts does about brackets and commas that the author has not written: it puts them in, and says so.

import type { IToken } from 'chevrotain';
import * as p from './layout-pass.ts';
import { messages } from './messages.ts';
import * as t from './tokens.ts';

export function openBlockUnseen(pass: p.Pass): void {
  pass.surplus++;
  p.report(pass, pass.previous!, messages.unopenedBlock, p.insertFix(pass, ' {', '{'));
  p.put(pass, t.BlockOpen);
  const token = pass.tokens.at(-1)!;
  p.push(pass, 'block', token);
  p.startBlock(pass, token);
}

export function openCurveUnseen(pass: p.Pass, next: IToken): void {
  pass.curvePending = false;
  pass.surplus++;
  p.report(pass, pass.previous ?? next, messages.unopenedCurve, p.insertFix(pass, ' {', '{'));
  p.put(pass, t.CurveOpen);
  p.push(pass, 'curve', pass.tokens.at(-1)!);
}

export function separateUnseen(pass: p.Pass, token: IToken): void {
  const before = pass.previous;
  if (before?.tokenType === t.Stray && before.image === ';') {
    pass.tokens.pop();
    const span = { start: before.startOffset, end: before.startOffset + 1 };
    p.report(pass, before, messages.semicolon, { title: messages.replace(','), edits: [{ span, text: ',' }] });
  } else p.report(pass, token, messages.missingComma(token.image), p.insertFix(pass, ',', ','));
  p.separate(pass);
}

export function closeUnseen(pass: p.Pass, quiet = false): void {
  closeParens(pass);
  const top = pass.stack.pop();
  if (top === undefined) return;
  pass.surplus--;
  if (!quiet && !isSwallowed(pass, top.token))
    p.report(pass, top.token, top.kind === 'curve' ? messages.unclosedCurve : messages.unclosedBlock);
  if (top.kind === 'junk') return;
  p.put(pass, top.kind === 'curve' ? t.CurveClose : t.BlockClose);
  if (top.kind === 'block') p.startLine(pass, pass.tokens.at(-1)!.startOffset);
}

/** A string without its quote has swallowed the rest of its line, a brace perhaps. */
function isSwallowed(pass: p.Pass, token: IToken): boolean {
  const broken = pass.brokenText?.startOffset ?? -1;
  return broken > token.startOffset && !/[\r\n]/.test(pass.text.slice(token.startOffset, broken));
}

/** The innermost bracket that was opened on a line indented no deeper than this one is its partner. */
export function closeByIndent(pass: p.Pass, token: IToken): void {
  const indent = p.indentAt(pass.text, token.startOffset);
  if (!pass.stack.some(open => open.indent <= indent)) return;
  while (pass.surplus > 0 && pass.stack.length > 1 && pass.stack.at(-1)!.indent > indent) closeUnseen(pass);
}

/** Parentheses can't reach over the end of a property: what is still open closes here. */
export function closeParens(pass: p.Pass): void {
  let top = pass.stack.at(-1);
  let reported = pass.parenDepth > p.NESTING_LIMIT;
  while (top !== undefined && (top.kind === 'paren' || (top.kind === 'junk' && top.token.tokenType === t.Open))) {
    pass.stack.pop();
    pass.parenDepth--;
    if (top.kind === 'paren') p.put(pass, t.Close);
    if (!reported) p.report(pass, top.token, messages.unclosedParenthesis);
    reported = true;
    top = pass.stack.at(-1);
  }
}

/** Closes what is open inside a property, because the next one begins. Says whether anything was. */
export function closeValue(pass: p.Pass): boolean {
  let isClosed = false;
  for (;;) {
    const [below, top] = [pass.stack.at(-2), pass.stack.at(-1)];
    if (top === undefined || top.kind === 'block') return isClosed;
    const isParen = top.token.tokenType === t.Open;
    // A block too many is skipped as a whole.
    if (top.kind === 'junk' && !isParen && (below === undefined || below.kind === 'block')) return isClosed;
    if (isParen) closeParens(pass);
    else closeUnseen(pass, isClosed || top.kind === 'junk');
    isClosed = true;
  }
}

export function closeAll(pass: p.Pass): void {
  let reported = false;
  while (pass.stack.length > 0) {
    const top = pass.stack.at(-1)!;
    if (top.kind === 'paren' || top.token.tokenType === t.Open) {
      closeParens(pass);
      reported = true;
      continue;
    }
    closeUnseen(pass, reported);
    reported = true;
  }
}
