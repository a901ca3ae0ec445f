// Properties and the blocks that hold them, and the rows of a catalogue.

import type { IToken } from 'chevrotain';
import type { CatalogueRow, Clause, Expression, Name, Property, Provenance, Span } from './ast.ts';
import {
  type Build,
  behindValue,
  buildName,
  buildPath,
  insertion,
  isComplete,
  nodeSpan,
  report,
  reportLeftover,
  tokenSpan,
} from './build-base.ts';
import { buildExpression } from './build-expression.ts';
import { buildText } from './build-literals.ts';
import type { BlockCstNode, BlocksCstNode, ClauseCstNode, PropertyCstNode } from './cst.generated.ts';
import { messages } from './messages.ts';
import * as t from './tokens.ts';
import { isKeyword, PER_WORDS } from './words.ts';

export interface BuiltClauses {
  readonly per: Name | undefined;
  readonly clauses: readonly Clause[];
  readonly provenance: Provenance | undefined;
}

/** The properties of a block; a line without a readable name is reported and left out. */
export function buildProperties(build: Build, block: BlockCstNode | undefined): Property[] {
  const nodes = block?.children.property ?? [];
  const rows = nodes.filter(isRowLike);
  const first = rows[0];
  if (first !== undefined) report(build, firstSpan(first), messages.rowOutside);
  const others = rows.length === 0 ? nodes : nodes.filter(node => !isRowLike(node));
  return others.map(node => buildProperty(build, node)).filter(property => property !== undefined);
}

/** A name with a block, as in a catalogue: one remark is enough for all of them. */
function isRowLike(node: PropertyCstNode): boolean {
  const { path, Equals: equals, expression, clause, blocks } = node.children;
  const others = equals ?? expression ?? clause ?? blocks?.[0]?.children.Leftover;
  return path !== undefined && others === undefined && blocks?.[0]?.children.block !== undefined;
}

/** The rows of a catalogue: names with blocks. */
export function buildRows(build: Build, block: BlockCstNode | undefined): CatalogueRow[] {
  const nodes = block?.children.property ?? [];
  return nodes.map(node => buildRow(build, node)).filter(row => row !== undefined);
}

function buildRow(build: Build, node: PropertyCstNode): CatalogueRow | undefined {
  const { path, Equals: equals, expression, blocks } = node.children;
  const nameToken = path?.[0]?.children.AnyName[0];
  const block = blocks?.[0]?.children.block?.[0];
  const isRow = nameToken !== undefined && t.isA(nameToken, t.Tag) && equals === undefined && expression === undefined;
  if (!isRow || path?.[0]?.children.Dot !== undefined) {
    const isKeyword = nameToken !== undefined && !t.isA(nameToken, t.Tag) && equals === undefined;
    report(
      build,
      firstSpan(node),
      isKeyword ? messages.keywordAsName(nameToken.image) : messages.rowName(firstImage(node)),
    );
    return undefined;
  }
  const name = buildName(nameToken);
  if (block === undefined) report(build, name, messages.rowBlock(name.text));
  reportBlocks(build, blocks?.[0], 1);
  const properties = buildProperties(build, block);
  const doc = build.docs.get(name.start);
  return { ...nodeSpan(node), name, block: block && nodeSpan(block), properties, doc };
}

function buildProperty(build: Build, node: PropertyCstNode): Property | undefined {
  const { path, Equals: equals, expression, clause, blocks } = node.children;
  const found = build.problems.length;
  const head = path?.[0];
  const firstWord = head?.children.AnyName[0];
  if (head === undefined || firstWord === undefined) {
    const first = firstToken(node);
    if (first !== undefined) reportLeftover(build, first, messages.propertyName(first.image));
    else report(build, nodeSpan(node), messages.rowOutside);
    return undefined;
  }
  const target = buildPath(build, head);
  if (!isComplete(head)) return undefined;
  const name = target.at(-1)!;
  const stray = blocks?.[0]?.children.Leftover?.[0];
  if (equals === undefined) {
    const fix = expression === undefined ? undefined : insertion(name.end, ' =');
    const isSpoilt = expression === undefined && stray?.tokenType === t.Stray;
    if (!isSpoilt) report(build, name, messages.missingEquals(target.map(({ text }) => text).join('.')), fix);
  } else if (expression === undefined && stray === undefined) {
    report(build, tokenSpan(equals[0]!), messages.missingValue);
  }
  const value = expression && buildExpression(build, expression);
  const clauses = buildClauses(build, clause ?? []);
  const isValue = expression !== undefined || clause !== undefined || stray === undefined;
  const isWhole = !reportBlocks(build, blocks?.[0], 0, isValue ? undefined : notAValue(stray));
  const isSure = isWhole && (equals !== undefined || build.problems.length === found + 1);
  return {
    ...nodeSpan(node),
    target,
    value: isSure ? value : undefined,
    ...clauses,
    doc: build.docs.get(firstWord.startOffset),
  };
}

function notAValue({ image }: IToken): string {
  return isKeyword(image) ? messages.keywordAsValue(image) : messages.noValue(image);
}

/** Reports what stands behind a head or a property and does not belong there. */
export function reportBlocks(
  build: Build,
  node: BlocksCstNode | undefined,
  allowed: 0 | 1,
  otherwise?: string,
): boolean {
  const stray = node?.children.Leftover?.[0];
  const extra = node?.children.block?.[allowed];
  if (stray !== undefined) reportStray(build, stray, node?.children.Leftover?.[1], otherwise);
  if (extra !== undefined) {
    const span = tokenSpan(extra.children.BlockOpen[0]!);
    report(build, span, allowed === 0 ? (otherwise ?? messages.rowOutside) : messages.secondBlock);
  }
  return stray !== undefined || extra !== undefined;
}

function reportStray(build: Build, token: IToken, next: IToken | undefined, otherwise: string | undefined): void {
  if (token.tokenType === t.Dot && next?.tokenType === t.NumberWord && next.startOffset === tokenSpan(token).end) {
    const span = { start: token.startOffset, end: tokenSpan(next).end };
    report(build, span, messages.leadingPoint(`0.${next.image}`), insertion(span.start, '0'));
  } else if (token.tokenType === t.Equals) report(build, tokenSpan(token), messages.secondEquals);
  else reportLeftover(build, token, otherwise ?? behindValue(token));
}

/** The clauses behind a value; each may stand once. */
export function buildClauses(build: Build, nodes: readonly ClauseCstNode[]): BuiltClauses {
  let per: Name | undefined;
  let provenance: Provenance | undefined;
  const clauses: Clause[] = [];
  const seen = new Set<string>();
  for (const node of nodes) {
    const token = wordOf(node);
    const word = token.image;
    if (seen.has(word)) report(build, tokenSpan(token), messages.repeated(word));
    else if (word === 'per') per = buildPer(build, node);
    else if (word === 'from' || word === 'assumed') provenance = buildProvenance(build, node, word);
    else clauses.push(buildClause(build, node));
    seen.add(word);
  }
  return { per, clauses, provenance };
}

function buildPer(build: Build, node: ClauseCstNode): Name | undefined {
  const operand = soleOperand(node)?.children.reference?.[0];
  const names = operand?.children.AnyName ?? [];
  const name = names[0];
  if (name !== undefined && names.length === 1 && PER_WORDS.some(word => word === name.image)) return buildName(name);
  report(build, tokenSpan(wordOf(node)), messages.missingPer);
  return undefined;
}

function buildProvenance(build: Build, node: ClauseCstNode, word: Provenance['word']): Provenance {
  const span = nodeSpan(node);
  const text = soleOperand(node)?.children.Text?.[0];
  if (text !== undefined) return { ...span, word, text: buildText(build, text).value };
  const isBare = node.children.expression === undefined;
  if (!isBare) report(build, nodeSpan(node.children.expression![0]!), messages.noSource(word));
  else if (word === 'from') report(build, tokenSpan(wordOf(node)), messages.missingSource);
  return { ...span, word, text: undefined };
}

function buildClause(build: Build, node: ClauseCstNode): Clause {
  const token = wordOf(node);
  const expression = node.children.expression?.[0];
  const takesValue = token.image === 'for' || token.image === 'every';
  let value: Expression | undefined;
  if (takesValue && expression !== undefined) value = buildExpression(build, [expression]);
  else if (takesValue) report(build, tokenSpan(token), messages.missingClauseValue(token.image));
  else if (expression !== undefined) report(build, nodeSpan(expression), messages.afterClause(token.image));
  return { ...nodeSpan(node), word: token.image, value };
}

/** A clause begins with its word: the grammar has no other way in. */
function wordOf(node: ClauseCstNode): IToken {
  return node.children.word![0]!;
}

function soleOperand(node: ClauseCstNode) {
  const items = node.children.expression?.[0]?.children.item ?? [];
  const item = items[0];
  return items.length === 1 && item !== undefined && 'children' in item ? item : undefined;
}

function firstSpan(node: PropertyCstNode): Span {
  const token = firstToken(node);
  return token === undefined ? { ...nodeSpan(node), end: nodeSpan(node).start + 1 } : tokenSpan(token);
}

const firstImage = (node: PropertyCstNode): string => firstToken(node)?.image ?? '{';

/** The first token of a property that may begin with anything but a block. */
function firstToken(node: PropertyCstNode): IToken | undefined {
  const { path, Equals: equals, expression, clause, blocks } = node.children;
  const item = expression?.[0]?.children.item?.[0];
  const token = path?.[0]?.children.AnyName[0] ?? equals?.[0];
  if (token !== undefined) return token;
  if (item !== undefined) return 'image' in item ? item : firstOf(item.children);
  return clause?.[0]?.children.word?.[0] ?? firstLeftover(blocks?.[0]);
}

function firstLeftover(node: BlocksCstNode | undefined): IToken | undefined {
  const stray = node?.children.Leftover?.[0];
  const block = node?.children.block?.[0];
  if (stray !== undefined && (block === undefined || nodeSpan(block).start > stray.startOffset)) return stray;
  return block?.children.BlockOpen[0];
}

function firstOf(
  children: Readonly<Record<string, readonly (IToken | { children: object })[] | undefined>>,
): IToken | undefined {
  let first: IToken | undefined;
  for (const list of Object.values(children)) {
    const item = list?.[0];
    if (item === undefined) continue;
    const token = 'image' in item ? item : firstOf({ ...item.children });
    if (token !== undefined && (first === undefined || token.startOffset < first.startOffset)) first = token;
  }
  return first;
}
