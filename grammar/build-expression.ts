// Expressions: which operator binds tighter, what is a sign and what a tolerance. An expression with a mistake in it
// is undefined as a whole; the mistake is reported.
//
// From loose to tight: comparison, `..`, `±`, `+ -`, `* /`, the sign, `^`.

import type { IToken } from 'chevrotain';
import type { BinaryExpression, CompareExpression, Expression, NumberLiteral, Span } from './ast.ts';
import {
  type Build,
  behindValue,
  buildPath,
  isComplete,
  nodeSpan,
  replacement,
  report,
  reportLeftover,
  tokenSpan,
} from './build-base.ts';
import { buildCurve } from './build-curve.ts';
import { buildNumber, buildText } from './build-literals.ts';
import type { ExpressionCstNode, OperandCstNode, ParenthesesCstNode } from './cst.generated.ts';
import { messages } from './messages.ts';
import * as t from './tokens.ts';

type Item = OperandCstNode | IToken;

interface Cursor {
  readonly build: Build;
  readonly items: readonly Item[];
  readonly comparing: boolean;
  index: number;
}

const OPERATOR_LIMIT = 100;

/** Reads one expression, which the grammar may have cut in two (`K1.loading during braking <= 70 %`). */
export function buildExpression(
  build: Build,
  nodes: readonly ExpressionCstNode[],
  comparing = false,
): Expression | undefined {
  const items = nodes.flatMap(node => node.children.item ?? []);
  if (items.length > 2 * OPERATOR_LIMIT) {
    report(build, nodeSpan(nodes[0]!), messages.tooLong(OPERATOR_LIMIT));
    return undefined;
  }
  const group = comparing && items.length === 1 ? soleGroup(items[0]) : undefined;
  if (group !== undefined) return buildGroup(build, group, true);
  const cursor: Cursor = { build, items, comparing, index: 0 };
  const expression = comparison(cursor);
  if (expression === undefined) return undefined;
  const extra = items[cursor.index];
  if (extra === undefined) return expression;
  if (isToken(extra)) reportChain(cursor, extra);
  else reportSecond(build, extra);
  return undefined;
}

/** The parentheses around a whole expression. */
function soleGroup(item: Item | undefined): ParenthesesCstNode | undefined {
  if (item === undefined || isToken(item)) return undefined;
  const { reference, PickWord: pick, parentheses } = item.children;
  return reference === undefined && pick === undefined ? parentheses?.[0] : undefined;
}

function comparison(cursor: Cursor): Expression | undefined {
  const left = range(cursor);
  const token = operatorAt(cursor, t.Compare);
  if (left === undefined || token === undefined) return left;
  cursor.index++;
  const right = range(cursor);
  if (right === undefined) return undefined;
  if (!cursor.comparing) {
    report(cursor.build, tokenSpan(token), messages.comparisonOutside);
    return undefined;
  }
  const operator = compareOperators[token.image] ?? '<=';
  return { type: 'compare', ...across(left, right), operator, operatorSpan: tokenSpan(token), left, right };
}

const compareOperators: Readonly<Record<string, CompareExpression['operator']>> = {
  '<=': '<=',
  '≤': '<=',
  '<': '<',
  '>=': '>=',
  '≥': '>=',
  '>': '>',
  '==': '==',
  '!=': '!=',
  '≠': '!=',
};

function range(cursor: Cursor): Expression | undefined {
  const low = tolerance(cursor);
  const token = operatorAt(cursor, t.Range);
  if (low === undefined || token === undefined) return low;
  cursor.index++;
  const high = tolerance(cursor);
  if (high === undefined) return undefined;
  if (isSpread(low) || isSpread(high)) {
    report(cursor.build, tokenSpan(token), messages.nestedSpread);
    return undefined;
  }
  return { type: 'range', ...across(low, high), low, high };
}

function tolerance(cursor: Cursor): Expression | undefined {
  const glued = gluedTolerance(cursor);
  if (glued !== undefined) return glued;
  const nominal = sum(cursor);
  const token = operatorAt(cursor, t.PlusMinus);
  if (nominal === undefined || token === undefined) return nominal;
  checkBlanks(cursor, token, nominal);
  cursor.index++;
  const deviation = sum(cursor);
  if (deviation === undefined) return undefined;
  if (deviation.type !== 'number' || deviation.value < 0) {
    const message = deviation.type === 'number' ? messages.negativeDeviation : messages.literalDeviation;
    report(cursor.build, deviation, message);
    return undefined;
  }
  return { type: 'tolerance', ...across(nominal, deviation), nominal, plus: deviation, minus: deviation };
}

/** `400 V +10 % -15 %`: after a literal, two signs glued to their numbers, plus first. */
function gluedTolerance(cursor: Cursor): Expression | undefined {
  const { items, build } = cursor;
  const first = items[cursor.index];
  const sign = first !== undefined && isToken(first) && t.isA(first, t.Sign) ? first : undefined;
  const at = cursor.index + (sign === undefined ? 0 : 1);
  const [nominal, plus, upper, minus, lower, next] = items.slice(at, at + 6);
  if (!isLiteral(nominal) || !isLiteral(upper) || !isLiteral(lower)) return undefined;
  if (!isGlued(nominal, plus, upper, t.Plus) || !isGlued(upper, minus, lower, t.Minus)) return undefined;
  if (next !== undefined && isToken(next) && [t.Times, t.Over, t.Power].includes(next.tokenType)) return undefined;
  cursor.index = at + 5;
  const value = literal(build, nominal, sign);
  const above = literal(build, upper);
  const below = literal(build, lower);
  if (value === undefined || above === undefined || below === undefined) return undefined;
  return { type: 'tolerance', ...across(value, below), nominal: value, plus: above, minus: below };
}

function isGlued(before: OperandCstNode, sign: Item | undefined, after: OperandCstNode, type: typeof t.Plus): boolean {
  if (sign === undefined || !isToken(sign) || sign.tokenType !== type) return false;
  return sign.startOffset > nodeSpan(before).end && tokenSpan(sign).end === nodeSpan(after).start;
}

/** `+-` without blanks could be an addition; the author is asked to say which. */
function checkBlanks(cursor: Cursor, token: IToken, before: Span): void {
  const next = cursor.items[cursor.index + 1];
  if (next === undefined || !/^\+[-−]$/.test(token.image)) return;
  const span = tokenSpan(token);
  const after = isToken(next) ? next.startOffset : nodeSpan(next).start;
  if (span.start > before.end && after > span.end) return;
  report(cursor.build, span, messages.spreadBlanks, replacement({ start: before.end, end: after }, ' ± '));
}

function sum(cursor: Cursor): Expression | undefined {
  let left = product(cursor);
  for (let token = operatorAt(cursor, t.Sign); left && token; token = operatorAt(cursor, t.Sign)) {
    cursor.index++;
    left = binary(left, token.tokenType === t.Plus ? '+' : '-', product(cursor));
  }
  return left;
}

function product(cursor: Cursor): Expression | undefined {
  let left = signed(cursor);
  for (let token = productOperator(cursor); left && token; token = productOperator(cursor)) {
    cursor.index++;
    left = binary(left, token.tokenType === t.Times ? '*' : '/', signed(cursor));
  }
  return left;
}

function productOperator(cursor: Cursor): IToken | undefined {
  return operatorAt(cursor, t.Times) ?? operatorAt(cursor, t.Over);
}

/** The sign belongs to the literal, unless a power binds it tighter: `-2^2` is -(2^2). */
function signed(cursor: Cursor): Expression | undefined {
  const signs: IToken[] = [];
  for (let token = operatorAt(cursor, t.Sign); token; token = operatorAt(cursor, t.Sign)) {
    signs.push(token);
    cursor.index++;
  }
  const item = cursor.items[cursor.index];
  const next = cursor.items[cursor.index + 1];
  const isPower = next !== undefined && isToken(next) && next.tokenType === t.Power;
  if (isLiteral(item) && !isPower) {
    cursor.index++;
    const value = literal(cursor.build, item, signs.pop());
    return value === undefined ? undefined : negate(value, signs);
  }
  const value = power(cursor);
  return value === undefined ? undefined : negate(value, signs);
}

function negate(value: Expression, signs: IToken[]): Expression {
  let result = value;
  for (const sign of signs.toReversed()) {
    if (sign.tokenType !== t.Minus) continue;
    result = { type: 'negate', start: sign.startOffset, end: value.end, operand: result };
  }
  return result;
}

function power(cursor: Cursor): Expression | undefined {
  const base = operand(cursor);
  const token = operatorAt(cursor, t.Power);
  if (base === undefined || token === undefined) return base;
  cursor.index++;
  const sign = operatorAt(cursor, t.Sign);
  if (sign !== undefined) cursor.index++;
  const item = cursor.items[cursor.index];
  if (!isLiteral(item)) {
    if (item === undefined || isToken(item)) operand(cursor);
    else report(cursor.build, nodeSpan(item), messages.exponent);
    return undefined;
  }
  cursor.index++;
  const chained = operatorAt(cursor, t.Power);
  if (chained !== undefined) {
    report(cursor.build, tokenSpan(chained), messages.towerOfPowers);
    return undefined;
  }
  return binary(base, '^', literal(cursor.build, item, sign));
}

/** The operand at the cursor; when there is none, the operator that lacks it is reported. */
function operand(cursor: Cursor): Expression | undefined {
  const { build, items, index } = cursor;
  const item = items[index];
  if (item !== undefined && !isToken(item)) {
    cursor.index++;
    return buildOperand(build, item);
  }
  const before = items[index - 1];
  const lonely = before !== undefined && isToken(before) ? before : item;
  if (lonely !== undefined) report(build, tokenSpan(lonely), messages.missingOperand(lonely.image));
  return undefined;
}

function buildOperand(build: Build, node: OperandCstNode): Expression | undefined {
  const {
    NumberWord: numbers,
    Unit: units,
    Text: texts,
    reference,
    parentheses,
    curve,
    PickWord: picks,
  } = node.children;
  if (numbers?.[0] !== undefined) return buildNumber(build, numbers[0], units?.[0]);
  if (texts?.[0] !== undefined) return buildText(build, texts[0]);
  if (curve?.[0] !== undefined) return buildCurve(build, curve[0]);
  if (picks !== undefined) return buildPick(build, node);
  const group = parentheses?.[0];
  const name = reference?.[0];
  if (name === undefined) return group === undefined ? undefined : buildGroup(build, group);
  const path = buildPath(build, name);
  if (!isComplete(name)) return undefined;
  if (group === undefined) return { type: 'reference', ...nodeSpan(name), path };
  if (path.length > 1) {
    report(build, nodeSpan(name), messages.qualifiedFunction);
    return undefined;
  }
  const values = buildList(build, group);
  return values && { type: 'call', ...nodeSpan(node), name: path[0]!, arguments: values };
}

function buildPick(build: Build, node: OperandCstNode): Expression | undefined {
  const { FromWord: from, parentheses } = node.children;
  if (from === undefined) return { type: 'pick', ...nodeSpan(node), from: undefined };
  const choices = parentheses?.[0];
  if (choices === undefined) {
    report(build, tokenSpan(from[0]!), messages.missingChoices);
    return undefined;
  }
  const values = buildList(build, choices);
  return values && { type: 'pick', ...nodeSpan(node), from: values };
}

function buildGroup(build: Build, node: ParenthesesCstNode, comparing = false): Expression | undefined {
  const values = buildList(build, node, comparing);
  if (values === undefined) return undefined;
  const comma = node.children.item?.find(item => isToken(item));
  if (values.length > 1 && comma !== undefined) {
    report(build, isToken(comma) ? tokenSpan(comma) : nodeSpan(comma), messages.commaInGroup);
    return undefined;
  }
  const inner = values[0]!;
  return { type: 'group', ...nodeSpan(node), inner };
}

/** Values with commas between them, at least one; a comma behind the last is fine. */
function buildList(build: Build, node: ParenthesesCstNode, comparing = false): Expression[] | undefined {
  const { item: items = [], Leftover: leftovers } = node.children;
  const found = build.problems.length;
  const stray = leftovers?.[0];
  if (stray !== undefined) {
    const isWord = t.isA(stray, t.AnyName);
    reportLeftover(build, stray, isWord ? behindValue(stray) : messages.insideParentheses(stray.image));
  }
  const values: (Expression | undefined)[] = [];
  let isExpected = true;
  for (const item of items) {
    if (!isToken(item)) {
      values.push(buildExpression(build, [item], comparing));
      isExpected = false;
      continue;
    }
    if (isExpected) report(build, tokenSpan(item), messages.emptyArgument);
    isExpected = true;
  }
  if (values.length === 0) report(build, nodeSpan(node), messages.emptyParentheses);
  const known = values.filter(value => value !== undefined);
  const isSound =
    known.length === values.length && build.problems.slice(found).every(({ code }) => code === 'decimal_comma');
  return isSound && known.length > 0 ? known : undefined;
}

function literal(build: Build, node: OperandCstNode, sign?: IToken): NumberLiteral | undefined {
  const { NumberWord: numbers, Unit: units } = node.children;
  return numbers?.[0] && buildNumber(build, numbers[0], units?.[0], sign);
}

function binary(left: Expression, operator: BinaryExpression['operator'], right: Expression | undefined) {
  if (right === undefined) return undefined;
  return { type: 'binary', ...across(left, right), operator, left, right } as const;
}

/** Two operands in a row, or an operator that can't follow. */
function reportSecond(build: Build, node: OperandCstNode): void {
  const span = nodeSpan(node);
  const name = node.children.reference?.[0]?.children.AnyName[0];
  if (name !== undefined) report(build, span, messages.afterValue(name.image));
  else report(build, span, node.children.Text === undefined ? messages.missingOperator : messages.textAfterValue);
}

function reportChain({ build }: Cursor, token: IToken): void {
  const isComparison = token.tokenType === t.Compare;
  report(build, tokenSpan(token), isComparison ? messages.twoComparisons : messages.nestedSpread);
}

function operatorAt(cursor: Cursor, type: typeof t.Sign): IToken | undefined {
  const item = cursor.items[cursor.index];
  return item !== undefined && isToken(item) && t.isA(item, type) ? item : undefined;
}

function isToken(item: Item | ExpressionCstNode): item is IToken {
  return 'image' in item;
}

function isLiteral(item: Item | undefined): item is OperandCstNode {
  return item !== undefined && !isToken(item) && item.children.NumberWord !== undefined;
}

const isSpread = (expression: Expression): boolean => expression.type === 'range' || expression.type === 'tolerance';

const across = (from: Span, to: Span): Span => ({ start: from.start, end: to.end });
