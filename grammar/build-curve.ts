// Curves: the heading with its axes, and the points between the braces.

import type { IToken } from 'chevrotain';
import type { CurveExpression, CurveRow, Name, NumberLiteral } from './ast.ts';
import { type Build, buildName, nodeSpan, report, tokenSpan } from './build-base.ts';
import { buildNumber } from './build-literals.ts';
import type { CurveCstNode } from './cst.generated.ts';
import { messages } from './messages.ts';
import * as t from './tokens.ts';
import { PER_WORDS } from './words.ts';

interface Heading {
  readonly axes: readonly Name[];
  readonly per: Name | undefined;
  readonly shape: CurveExpression['shape'];
}

/** A number of the table, and whether a comma stands before it. */
interface Cell {
  readonly literal: NumberLiteral;
  readonly afterComma: boolean;
}

/** The cells of one line of the table. */
interface Line {
  readonly cells: readonly Cell[];
  readonly isColumns: boolean;
  readonly isBroken: boolean;
  readonly start: number;
  readonly end: number;
}

/** A curve with the rows that could be read. Rows with a mistake are left out, and reported. */
export function buildCurve(build: Build, node: CurveCstNode): CurveExpression | undefined {
  const { CurveWord: curveWords, heading = [], points } = node.children;
  const start = curveWords[0]!;
  const found = build.problems.length;
  const { axes, per, shape } = readHeading(build, heading, start);
  const table = points?.[0];
  if (table === undefined) {
    report(build, tokenSpan(start), messages.missingPoints);
    return undefined;
  }
  const lines = readLines(build, table.children.CurveItem ?? []);
  const isFlat = axes.length < 2 && !lines.some(line => line.isColumns);
  const content = isFlat
    ? { columns: undefined, rows: readPairs(build, lines) }
    : readTable(build, lines, tokenSpan(start));
  if (build.problems.length > found) return undefined;
  if (content.rows.length === 0) {
    report(build, tokenSpan(start), messages.missingPoints);
    return undefined;
  }
  return { type: 'curve', ...nodeSpan(node), axes, per, shape, ...content };
}

function readHeading(build: Build, tokens: readonly IToken[], start: IToken): Heading {
  const axes: Name[] = [];
  let per: Name | undefined;
  let shape: CurveExpression['shape'] = 'linear';
  let index = 0;
  const axisAt = (token: IToken | undefined): token is IToken =>
    token !== undefined && t.isA(token, t.AnyName) && !['per', 'smooth', 'log'].includes(token.image);
  if (!axisAt(tokens[0])) report(build, tokenSpan(start), messages.missingAxis);
  while (axisAt(tokens[index])) {
    axes.push(buildName(tokens[index]!));
    index++;
    const next = tokens[index];
    if (next?.tokenType === t.Comma) {
      index++;
      if (!axisAt(tokens[index])) report(build, tokenSpan(next), messages.axisComma);
    } else if (axisAt(next)) {
      report(build, tokenSpan(next), isStray(next) ? messages.curveHeading(next.image) : messages.axisComma);
      index = tokens.length;
    }
  }
  if (axes.length > 2) report(build, axes[2]!, messages.tooManyAxes);
  for (; index < tokens.length; index++) {
    const token = tokens[index]!;
    const next = tokens[index + 1];
    if (token.image === 'per') {
      if (next !== undefined && PER_WORDS.some(word => word === next.image)) per = buildName(next);
      else report(build, tokenSpan(token), messages.missingPer);
      index++;
    } else if (token.image === 'smooth' || token.image === 'log') shape = token.image;
    else report(build, tokenSpan(token), messages.curveHeading(token.image));
  }
  return { axes, per, shape };
}

/** A word behind the axis that is a misplaced `cell` or `string` rather than a second axis. */
function isStray(token: IToken): boolean {
  return PER_WORDS.some(word => word === token.image);
}

/** Cuts the items of a table into lines of cells; two axes or one is decided later. */
function readLines(build: Build, items: readonly IToken[]): Line[] {
  const lines: Line[] = [];
  let cells: Cell[] = [];
  let isColumns = false;
  let isBroken = false;
  let afterComma = false;
  let start = 0;
  let end = 0;
  const finish = (): void => {
    if (cells.length > 0 || isBroken || isColumns) lines.push({ cells, isColumns, isBroken, start, end });
    cells = [];
    isColumns = false;
    isBroken = false;
    afterComma = false;
  };
  const fail = (token: IToken, message: string): void => {
    if (!isBroken) report(build, tokenSpan(token), message);
    isBroken = true;
  };
  for (let index = 0; index < items.length; index++) {
    const token = items[index]!;
    if (token.tokenType === t.RowEnd) {
      finish();
      continue;
    }
    if (cells.length === 0 && !isBroken && !isColumns) start = token.startOffset;
    end = tokenSpan(token).end;
    const sign = t.isA(token, t.Sign) ? token : undefined;
    const number = sign === undefined ? token : items[index + 1];
    if (token.tokenType === t.Comma) {
      if (afterComma || (cells.length === 0 && lines.length === 0)) fail(token, messages.emptyArgument);
      afterComma = true;
    } else if (token.image === 'columns') {
      if (isColumns || cells.length > 0 || lines.length > 0) fail(token, messages.columnsOnce);
      isColumns = true;
    } else if (number?.tokenType === t.NumberWord) {
      const next = items[index + (sign === undefined ? 1 : 2)];
      const unit = next?.tokenType === t.Unit ? next : undefined;
      const literal = buildNumber(build, number, unit, sign);
      if (literal === undefined) isBroken = true;
      else cells.push({ literal, afterComma });
      end = tokenSpan(unit ?? number).end;
      index += (sign === undefined ? 0 : 1) + (unit === undefined ? 0 : 1);
      afterComma = false;
    } else fail(token, sign === undefined ? messages.curveItem(token.image) : messages.danglingSign);
  }
  finish();
  return lines;
}

/** One axis: pairs, which commas and line ends may part. */
function readPairs(build: Build, lines: readonly Line[]): CurveRow[] {
  const rows: CurveRow[] = [];
  for (const line of lines) {
    if (line.isBroken) continue;
    let group: NumberLiteral[] = [];
    const finish = (): void => {
      if (group.length % 2 === 1) {
        const message = group.length === 1 ? messages.rowOfOne : messages.rowOfMany(group.length);
        report(build, { start: group[0]!.start, end: group.at(-1)!.end }, message);
      }
      for (let at = 0; at + 1 < group.length; at += 2) rows.push(buildRow(group[at]!, [group[at + 1]!]));
      group = [];
    };
    for (const { literal, afterComma } of line.cells) {
      if (afterComma) finish();
      group.push(literal);
    }
    finish();
  }
  return rows;
}

/** Two axes: the row of columns, then rows of x and as many y with commas between them. */
function readTable(build: Build, lines: readonly Line[], curve: { start: number; end: number }) {
  const groups = lines.flatMap(line => (line.isBroken ? [] : splitLine(line)));
  const head = groups[0];
  const isHeaded = lines[0]?.isColumns === true;
  if (!isHeaded || head === undefined || head.length === 0) {
    if (lines[0]?.isBroken !== true) report(build, curve, messages.missingColumns);
    return { columns: undefined, rows: [] };
  }
  const rows: CurveRow[] = [];
  for (const group of groups.slice(1)) {
    const [x, ...y] = group;
    if (x === undefined) continue;
    if (y.length === head.length) rows.push(buildRow(x, y));
    else report(build, { start: x.start, end: group.at(-1)!.end }, messages.rowLength(head.length, y.length));
  }
  return { columns: head, rows };
}

function splitLine(line: Line): NumberLiteral[][] {
  const groups: NumberLiteral[][] = [];
  let inColumns = line.isColumns;
  for (const { literal, afterComma } of line.cells) {
    const group = groups.at(-1);
    const needed = inColumns ? 1 : 2;
    if (group !== undefined && (afterComma || group.length < needed)) group.push(literal);
    else {
      if (group !== undefined) inColumns = false;
      groups.push([literal]);
    }
  }
  return groups;
}

function buildRow(x: NumberLiteral, y: readonly NumberLiteral[]): CurveRow {
  return { start: x.start, end: y.at(-1)?.end ?? x.end, x, y };
}
