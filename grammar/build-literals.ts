// Numbers, texts and days: from the characters that the author wrote to values.

import type { IToken } from 'chevrotain';
import type { DateLiteral, NumberLiteral, StringLiteral, UnitText } from './ast.ts';
import { type Build, insertion, replacement, report, tokenSpan } from './build-base.ts';
import { messages } from './messages.ts';
import * as t from './tokens.ts';

/** A number with the unit behind it and the sign before it; undefined when its value can't be told. */
export function buildNumber(build: Build, number: IToken, unit?: IToken, sign?: IToken): NumberLiteral | undefined {
  const size = readNumber(build, number);
  if (size === undefined) return undefined;
  const start = sign?.startOffset ?? number.startOffset;
  const end = tokenSpan(unit ?? number).end;
  const value = sign?.tokenType === t.Minus && size !== 0 ? -size : size;
  return { type: 'number', start, end, value, unit: unit === undefined ? undefined : buildUnit(unit) };
}

function buildUnit(token: IToken): UnitText {
  return { ...tokenSpan(token), text: token.image };
}

function readNumber(build: Build, token: IToken): number | undefined {
  const image = token.image.replaceAll('_', '').replaceAll('−', '-');
  if (image.includes(',')) return readCommas(build, token);
  const value = Number(image);
  if (Number.isFinite(value)) return value;
  report(build, tokenSpan(token), messages.tooLarge);
  return undefined;
}

/** `5,8` is certainly 5.8; `31,000` may be either, and what it means is left to the author. */
function readCommas(build: Build, token: IToken): number | undefined {
  const { image } = token;
  const span = tokenSpan(token);
  const parts = image.split(',');
  const grouped = image.replaceAll(',', '_');
  const decimal = image.replace(',', '.');
  const looksGrouped = parts.slice(1).every(part => /^\d{3}(?:\.\d+)?$/.test(part));
  const add = (message: string, text?: string): void => {
    const problem = { code: 'decimal_comma', message, span } as const;
    build.problems.push(text === undefined ? problem : { ...problem, fix: replacement(span, text) });
  };
  if (parts.length === 2 && !image.includes('.')) {
    const value = Number(decimal.replaceAll('_', ''));
    const isPlain = !looksGrouped || parts[0] === '0';
    add(
      isPlain ? messages.decimalComma(decimal) : messages.commaInNumber(decimal, grouped),
      isPlain ? decimal : undefined,
    );
    return isPlain && Number.isFinite(value) ? value : undefined;
  }
  if (looksGrouped) add(messages.manyCommas(grouped), grouped);
  else add(messages.commaInList, image.replaceAll(',', ', '));
  return undefined;
}

/** The text between the quotes; a missing quote and a wrong escape are reported, and what stands there is kept. */
export function buildText(build: Build, token: IToken): StringLiteral {
  const span = tokenSpan(token);
  const { image } = token;
  if (!image.startsWith('"')) {
    const value = image.slice(1, -1);
    const written = `"${value.replaceAll('\\', '\\\\').replaceAll('"', '\\"')}"`;
    report(build, span, messages.curlyQuotes, replacement(span, written));
    return { type: 'string', ...span, value };
  }
  const broken = t.isBroken(token);
  if (broken) report(build, span, messages.unclosedText);
  const inner = broken ? image.slice(1).trimEnd() : image.slice(1, -1);
  const wrong = broken ? undefined : /(?:^|[^\\])(?:\\\\)*(\\[^\\"])/.exec(inner);
  if (wrong?.[1] !== undefined) {
    const at = span.start + 1 + wrong.index + wrong[0].length - 2;
    report(build, { start: at, end: at + 2 }, messages.escape(wrong[1]), insertion(at, '\\', '\\'));
  }
  return { type: 'string', ...span, value: inner.replace(/\\([\\"])/g, '$1') };
}

export function buildDate(build: Build, token: IToken): DateLiteral | undefined {
  const span = tokenSpan(token);
  const [year = 0, month = 0, day = 0] = token.image.split('-').map(Number);
  if (month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month)) return { ...span, year, month, day };
  report(build, span, messages.noSuchDay(token.image));
  return undefined;
}

function daysIn(year: number, month: number): number {
  if (month === 2) return (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28;
  return [4, 6, 9, 11].includes(month) ? 30 : 31;
}
