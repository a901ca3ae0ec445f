// From the concrete tree to the syntax tree of one chunk. Total: whatever is missing is undefined, and reported.

import type { IToken } from 'chevrotain';
import type {
  AcceptDeclaration,
  BaseReference,
  CaseDeclaration,
  CatalogueDeclaration,
  ConnectDeclaration,
  Declaration,
  EntityDeclaration,
  Expression,
  LetDeclaration,
  Name,
  RequireDeclaration,
  StringLiteral,
  UseDeclaration,
} from './ast.ts';
import {
  type Build,
  behindValue,
  buildName,
  buildNameOf,
  buildPath,
  insertion,
  isComplete,
  nodeSpan,
  replacement,
  report,
  reportLeftover,
  tokenSpan,
} from './build-base.ts';
import { buildExpression } from './build-expression.ts';
import { buildDate, buildText } from './build-literals.ts';
import { buildClauses, buildProperties, buildRows, reportBlocks } from './build-properties.ts';
import type * as cst from './cst.generated.ts';
import { messages } from './messages.ts';
import * as t from './tokens.ts';
import { isKeyword, isKind, nearestHead } from './words.ts';

/** The declaration of a chunk, if there is one; what stands around it is reported. */
export function buildDeclaration(build: Build, node: cst.ChunkCstNode): Declaration | undefined {
  const declaration = buildAny(build, node.children);
  const { Leftover: leftovers, block } = node.children;
  const stray = leftovers?.[0];
  if (stray !== undefined) reportOutside(build, stray, leftovers?.[1]);
  if (block?.[0] !== undefined) report(build, tokenSpan(block[0].children.BlockOpen[0]!), messages.secondBlock);
  return declaration;
}

/** A line behind a complete declaration that begins none. */
function reportOutside(build: Build, token: IToken, next: IToken | undefined): void {
  const isProperty = next?.tokenType === t.Equals && t.isA(token, t.AnyName);
  if (isProperty && token.image === 'let') report(build, tokenSpan(token), messages.missingLetValue);
  else if (isProperty) report(build, tokenSpan(token), messages.propertyOutside(token.image));
  else reportLeftover(build, token, messages.tooMuch(token.image));
}

function buildAny(build: Build, children: cst.ChunkCstChildren): Declaration | undefined {
  if (children.entity?.[0] !== undefined) return buildEntity(build, children.entity[0]);
  if (children.use?.[0] !== undefined) return buildUse(build, children.use[0]);
  if (children.let?.[0] !== undefined) return buildLet(build, children.let[0]);
  if (children.catalogue?.[0] !== undefined) return buildCatalogue(build, children.catalogue[0]);
  if (children.connect?.[0] !== undefined) return buildConnect(build, children.connect[0]);
  if (children.case?.[0] !== undefined) return buildCase(build, children.case[0]);
  if (children.require?.[0] !== undefined) return buildRequire(build, children.require[0]);
  if (children.accept?.[0] !== undefined) return buildAccept(build, children.accept[0]);
  return undefined;
}

function buildEntity(build: Build, node: cst.EntityCstNode): EntityDeclaration | undefined {
  const { PartWord: partWords, kind: kinds, name: names, base, blocks } = node.children;
  const leftovers = blocks[0]?.children;
  const kindToken = kinds?.[0];
  const isPart = partWords !== undefined;
  if (kindToken === undefined) {
    const stray = leftovers?.Leftover?.[0];
    if (isPart) report(build, tokenSpan(partWords[0]!), messages.missingKind);
    else if (stray !== undefined) reportLeftover(build, stray, messages.outside(stray.image));
    else report(build, { ...nodeSpan(node), end: nodeSpan(node).start + 1 }, messages.outside('{'));
    return undefined;
  }
  const kind = buildName(kindToken);
  const name = buildNameOf(names);
  if (!isKind(kind.text)) {
    reportKind(build, kindToken, isPart, name, leftovers?.Leftover?.[0]);
    if (name === undefined) return undefined;
  } else {
    if (name === undefined) reportName(build, kindToken, leftovers?.Leftover?.[0], kindToken.image);
    if (isPart && ['plant', 'duty', 'practice'].includes(kind.text)) report(build, kind, messages.noPart(kind.text));
    const stray = leftovers?.Leftover?.[0];
    if (name !== undefined && base === undefined && t.isA(stray, t.Tag)) {
      report(build, tokenSpan(stray!), messages.missingIs(stray!.image), insertion(name.end, ' is'));
    } else reportBlocks(build, blocks[0], 1, messages.tooMuch(stray?.image ?? ''));
  }
  const block = leftovers?.block?.[0];
  return {
    type: 'entity',
    ...start(build, node),
    part: isPart,
    kind,
    name,
    base: base?.[0] && buildBase(build, base[0]),
    block: block && nodeSpan(block),
    properties: buildProperties(build, block),
  };
}

/** A word that is no kind: a slip of the pen, or no declaration at all. */
function reportKind(
  build: Build,
  token: IToken,
  isPart: boolean,
  name: Name | undefined,
  stray: IToken | undefined,
): void {
  const span = tokenSpan(token);
  const near = nearestHead(token.image);
  if (isPart && name === undefined && near === undefined) report(build, span, messages.missingKind);
  else if (near !== undefined && stray?.tokenType !== t.Equals) {
    report(build, span, messages.nearDeclaration(token.image, near), replacement(span, near));
  } else if (stray?.tokenType === t.Equals) report(build, span, messages.propertyOutside(token.image));
  else report(build, span, isPart ? messages.unknownKind(token.image) : messages.noDeclaration(token.image));
}

/** A head without its name: what stands there instead says which mistake it is. */
function reportName(build: Build, head: IToken, stray: IToken | undefined, kind: string): void {
  const isNext = stray !== undefined;
  if (isNext && t.isA(stray, t.AnyName) && isKeyword(stray.image)) {
    report(build, tokenSpan(stray), messages.keywordAsName(stray.image));
  } else if (isNext && stray.tokenType === t.NumberWord)
    report(build, tokenSpan(stray), messages.nameStart(stray.image));
  else report(build, tokenSpan(head), messages.missingName(kind));
}

function buildBase(build: Build, node: cst.BaseCstNode): BaseReference {
  const { IsWord: is, PickWord: pick, path } = node.children;
  const names = path?.[0] === undefined ? [] : buildPath(build, path[0]);
  const head = path?.[0]?.children.AnyName[0];
  if (head === undefined)
    report(build, tokenSpan(pick?.[0] ?? is[0]!), pick ? messages.missingCatalogue : messages.missingBase);
  else if (!t.isA(head, t.Tag)) report(build, tokenSpan(head), messages.keywordAsValue(head.image));
  const isSound = path?.[0] !== undefined && isComplete(path[0]) && t.isA(head, t.Tag);
  return { ...nodeSpan(node), pick: pick !== undefined, path: isSound ? names : [] };
}

function buildUse(build: Build, node: cst.UseCstNode): UseDeclaration {
  const { UseWord: words, Text: texts, AsWord: as, alias: aliases, blocks } = node.children;
  const path = texts?.[0] && buildText(build, texts[0]);
  const alias = buildNameOf(aliases);
  const stray = blocks[0]?.children.Leftover?.[0];
  if (path === undefined) report(build, tokenSpan(words[0]!), messages.missingPath);
  else if (as !== undefined && alias === undefined) {
    if (stray !== undefined && isKeyword(stray.image))
      report(build, tokenSpan(stray), messages.keywordAsName(stray.image));
    else report(build, tokenSpan(as[0]!), messages.missingAlias);
  }
  if (path !== undefined && as === undefined && t.isA(stray, t.Tag)) {
    report(build, tokenSpan(stray!), messages.missingAs(stray!.image), insertion(path.end, ' as'));
  } else
    reportBlocks(build, blocks[0], 0, stray === undefined ? messages.noBlock('use') : messages.tooMuch(stray.image));
  return { type: 'use', ...start(build, node), path, alias };
}

function buildLet(build: Build, node: cst.LetCstNode): LetDeclaration {
  const { LetWord: words, name: names, Equals: equals, expression, clause, blocks } = node.children;
  const found = build.problems.length;
  const name = buildNameOf(names);
  const stray = blocks[0]?.children.Leftover?.[0];
  const word = clause?.[0]?.children.word?.[0] ?? stray;
  if (name === undefined && equals === undefined && word !== undefined && isKeyword(word.image)) {
    report(build, tokenSpan(word), messages.keywordAsName(word.image));
  } else if (name === undefined) report(build, tokenSpan(words[0]!), messages.missingLetValue);
  else if (equals === undefined) {
    report(build, name, messages.missingEquals(name.text), expression && insertion(name.end, ' ='));
  } else if (expression === undefined && stray === undefined) {
    report(build, tokenSpan(equals[0]!), messages.missingLetValue);
  }
  const value = expression && buildExpression(build, expression);
  const { per, clauses, provenance } = buildClauses(build, clause ?? []);
  const extra = per ?? clauses[0];
  if (extra !== undefined) report(build, extra, messages.noClause(per ? 'per' : (clauses[0]?.word ?? '')));
  const isStray = reportBlocks(
    build,
    blocks[0],
    0,
    stray === undefined ? messages.noBlock('let') : expression && behindValue(stray),
  );
  const isSure = !isStray && (equals !== undefined || build.problems.length === found + 1);
  return { type: 'let', ...start(build, node), name, value: isSure ? value : undefined, provenance };
}

function buildCatalogue(build: Build, node: cst.CatalogueCstNode): CatalogueDeclaration {
  const { CatalogueWord: words, kind: kinds, name: names, FromWord: from, Text: texts, blocks } = node.children;
  const kind = buildNameOf(kinds);
  const name = buildNameOf(names);
  const stray = blocks[0]?.children.Leftover?.[0];
  if (kind === undefined) report(build, tokenSpan(words[0]!), messages.missingCatalogueKind);
  else if (!isKind(kind.text)) {
    report(build, kind, name === undefined ? messages.missingCatalogueKind : messages.unknownKind(kind.text));
  } else if (name === undefined && stray !== undefined && isKeyword(stray.image)) {
    report(build, tokenSpan(stray), messages.keywordAsName(stray.image));
  } else if (name === undefined) report(build, kind, messages.missingCatalogueKind);
  const file = texts?.[0] && buildText(build, texts[0]);
  if (from !== undefined && file === undefined) report(build, tokenSpan(from[0]!), messages.missingSource);
  reportBlocks(build, blocks[0], 1, stray && messages.tooMuch(stray.image));
  const block = blocks[0]?.children.block?.[0];
  const rows = buildRows(build, block);
  return { type: 'catalogue', ...start(build, node), kind, name, from: file, block: block && nodeSpan(block), rows };
}

function buildConnect(build: Build, node: cst.ConnectCstNode): ConnectDeclaration {
  const { ConnectWord: words, item: items = [], blocks } = node.children;
  const chain: Name[] = [];
  let before: IToken = words[0]!;
  for (const item of items) {
    const isTag = item.tokenType !== t.Arrow;
    const wasTag = before !== words[0] && before.tokenType !== t.Arrow;
    if (isTag) chain.push(buildName(item));
    if (isTag && wasTag) {
      const fix = insertion(tokenSpan(before).end, ' ->');
      report(build, tokenSpan(item), messages.missingArrow(before.image, item.image), fix);
    } else if (!isTag && !wasTag) report(build, tokenSpan(item), messages.missingTag);
    before = item;
  }
  const stray = blocks[0]?.children.Leftover?.[0];
  if (stray !== undefined && isKeyword(stray.image))
    report(build, tokenSpan(stray), messages.keywordAsName(stray.image));
  else if (before.tokenType === t.Arrow) report(build, tokenSpan(before), messages.missingTag);
  else if (chain.length < 2) report(build, tokenSpan(words[0]!), messages.missingChain);
  reportBlocks(build, blocks[0], 0, stray === undefined ? messages.noBlock('connect') : messages.tooMuch(stray.image));
  return { type: 'connect', ...start(build, node), chain };
}

function buildCase(build: Build, node: cst.CaseCstNode): CaseDeclaration {
  const { CaseWord: words, name: names, IsWord: is, item: items = [], blocks } = node.children;
  const stray = blocks[0]?.children.Leftover?.[0];
  const name = buildNameOf(names);
  if (name === undefined) reportName(build, words[0]!, is === undefined ? stray : undefined, 'case');
  const bases: Name[] = [];
  let before: IToken | undefined;
  for (const item of items) {
    const isTag = item.tokenType !== t.Comma;
    const wasTag = before !== undefined && before.tokenType !== t.Comma;
    if (isTag) bases.push(buildName(item));
    if (isTag && wasTag) report(build, tokenSpan(item), messages.missingCaseComma(before!.image, item.image));
    else if (!isTag && !wasTag) report(build, tokenSpan(item), messages.missingCases);
    before = item;
  }
  if (is !== undefined && bases.length === 0) report(build, tokenSpan(is[0]!), messages.missingCases);
  reportBlocks(build, blocks[0], 1, stray && messages.tooMuch(stray.image));
  const block = blocks[0]?.children.block?.[0];
  const properties = buildProperties(build, block);
  return { type: 'case', ...start(build, node), name, bases, block: block && nodeSpan(block), properties };
}

function buildRequire(build: Build, node: cst.RequireCstNode): RequireDeclaration {
  const { RequireWord: words, name: names, expression, during, because, blocks } = node.children;
  const found = build.problems.length;
  const condition = expression && unwrap(buildExpression(build, expression, true));
  const stray = blocks[0]?.children.Leftover?.[0];
  if (expression === undefined && stray === undefined) report(build, tokenSpan(words[0]!), messages.missingCondition);
  for (const [index, part] of (during ?? []).entries()) {
    if (part.children.Tag === undefined) report(build, tokenSpan(part.children.DuringWord[0]!), messages.missingDuring);
    else if (index > 0) report(build, nodeSpan(part), messages.repeated('during'));
  }
  const isStray = stray?.tokenType === t.Equals;
  if (isStray) report(build, tokenSpan(stray), messages.compareWith);
  const reason = because?.[0] && buildReason(build, because[0]);
  if (!isStray) reportBlocks(build, blocks[0], 0, stray ? messages.tooMuch(stray.image) : messages.noBlock('require'));
  if (condition !== undefined && condition.type !== 'compare' && build.problems.length === found) {
    report(build, condition, messages.noComparison);
  }
  return {
    type: 'require',
    ...start(build, node),
    name: buildNameOf(names),
    condition: condition?.type === 'compare' ? condition : undefined,
    during: buildNameOf(during?.[0]?.children.Tag),
    because: reason,
  };
}

function unwrap(expression: Expression | undefined): Expression | undefined {
  return expression?.type === 'group' ? unwrap(expression.inner) : expression;
}

function buildReason(build: Build, node: cst.BecauseCstNode): StringLiteral | undefined {
  const text = node.children.Text?.[0];
  if (text !== undefined) return buildText(build, text);
  report(build, tokenSpan(node.children.BecauseWord[0]!), messages.missingReason);
  return undefined;
}

/** Every part but the bound is needed; the first one that is missing is reported, where it should have stood. */
function buildAccept(build: Build, node: cst.AcceptCstNode): AcceptDeclaration {
  const {
    AcceptWord: words,
    code,
    OnWord: on,
    tag,
    bound,
    UntilWord: until,
    DateWord: date,
    because,
    blocks,
  } = node.children;
  const limit = bound?.[0]?.children;
  const direction = limit?.direction?.[0];
  const stray = blocks[0]?.children.Leftover?.[0];
  const missing = (token: IToken | undefined, message: string): void => {
    if (token !== undefined) report(build, tokenSpan(token), message);
  };
  const value = limit?.expression && buildExpression(build, limit.expression);
  const day = date?.[0] && buildDate(build, date[0]);
  const reason = because?.[0] && buildReason(build, because[0]);
  if (code === undefined) missing(words[0], messages.missingCode);
  else if (on === undefined || tag === undefined) missing(on?.[0] ?? code[0], messages.missingOn);
  else if (direction !== undefined && limit?.ToWord === undefined)
    missing(direction, messages.missingTo(direction.image));
  else if (direction !== undefined && limit?.expression === undefined)
    missing(limit?.ToWord?.[0], messages.missingBound);
  else if (until === undefined) {
    if (stray === undefined) missing(tag[0], messages.missingUntil);
  } else if (date === undefined) missing(until[0], messages.missingDate);
  else if (because === undefined && stray === undefined) missing(date[0], messages.missingBecause);
  reportBlocks(build, blocks[0], 0, stray === undefined ? messages.noBlock('accept') : messages.tooMuch(stray.image));
  return {
    type: 'accept',
    ...start(build, node),
    code: buildNameOf(code),
    tag: buildNameOf(tag),
    direction: direction === undefined ? undefined : direction.image === 'up' ? 'up' : 'down',
    bound: value,
    until: day,
    because: reason,
  };
}

function start(
  build: Build,
  node:
    | cst.EntityCstNode
    | cst.UseCstNode
    | cst.LetCstNode
    | cst.CatalogueCstNode
    | cst.ConnectCstNode
    | cst.CaseCstNode
    | cst.RequireCstNode
    | cst.AcceptCstNode,
) {
  const span = nodeSpan(node);
  return { ...span, doc: build.docs.get(span.start) };
}
