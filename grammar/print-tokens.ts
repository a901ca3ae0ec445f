// How the formatter writes single tokens, and what it puts between two of them.

import type { IToken } from 'chevrotain';
import * as t from './tokens.ts';

/** What the syntax tree tells the formatter about a chunk. */
export interface Shape {
  /** Signs of tolerances written `+10 % -15 %`, which stay glued to their numbers. */
  readonly gluedSigns: ReadonlySet<number>;
  /** Where the rows of curves begin. */
  readonly rowStarts: ReadonlySet<number>;
}

const toWord = t.word('to');
const directions = new Set([t.word('up'), t.word('down')]);
const canonical: ReadonlyMap<unknown, string> = new Map([
  [t.Times, '*'],
  [t.Over, '/'],
  [t.Minus, '-'],
  [t.Arrow, '->'],
  [t.Range, '..'],
  [t.PlusMinus, '±'],
]);
const comparisons: Readonly<Record<string, string>> = { '≤': '<=', '≥': '>=', '≠': '!=' };

/** A token in the first of the forms in which it may be written. */
export function tokenText(token: IToken): string {
  const { tokenType, image } = token;
  if (tokenType === t.Unit) return unitText(image);
  if (tokenType === t.Compare) return comparisons[image] ?? image;
  if (tokenType === t.NumberWord) return image.replace('−', '-');
  if (tokenType === t.Comment || tokenType === t.Doc) return image.trimEnd();
  if (t.isA(token, t.AnyName)) return image.normalize('NFC');
  return canonical.get(tokenType) ?? image;
}

/** `ohm/km` as `Ω/km`, `mm2` as `mm²`, `degC` as `°C`. Anything that is not known to be a unit stays as it is. */
export function unitText(image: string): string {
  return image
    .normalize('NFC')
    .replaceAll('μ', 'µ')
    .split(/([*·×⋅∙/])/)
    .map((part, index) => (index % 2 === 1 ? (part === '/' ? '/' : '*') : factorText(part)))
    .join('');
}

function factorText(factor: string): string {
  return factor
    .replace(/^(?:deg|[º˚])C$/, '°C')
    .replace(/^℃$/, '°C')
    .replace(/^([pnuµmkMG]?)ohm$/, '$1Ω')
    .replace(/\^([23])$/, (_, digit: string) => superscript(digit))
    .replace(/^([pnuµmkMGcd]?[msAVKW])([23])$/, (_, base: string, digit: string) => base + superscript(digit));
}

const superscript = (digit: string): string => (digit === '2' ? '²' : '³');

/** What stands between two tokens on one line; `before` is the token before `left`. */
export function gap(shape: Shape, left: IToken, right: IToken, before: IToken | undefined, third?: IToken): '' | ' ' {
  const from = left.tokenType;
  const to = right.tokenType;
  if (from === t.Open || from === t.Dot || to === t.Dot) return '';
  // Glued to a unit it would be a part of the unit.
  if (to === t.Power) return from === t.Unit ? ' ' : '';
  if (from === t.Power) return before?.tokenType === t.Unit ? ' ' : '';
  if (to === t.Comma || to === t.Separator || to === t.Close || to === t.Colon) return '';
  if (to === t.Open) return isCalled(left, before) ? '' : ' ';
  if (shape.gluedSigns.has(left.startOffset)) return '';
  if (t.isA(left, t.Sign) && !endsValue(before, third)) return '';
  return ' ';
}

/** Whether a name with parentheses behind it calls a function. */
function isCalled(left: IToken, before: IToken | undefined): boolean {
  return t.isA(left, t.Tag) && !isTo(left, before);
}

function isTo(token: IToken, before: IToken | undefined): boolean {
  return token.tokenType === toWord && before !== undefined && directions.has(before.tokenType);
}

/** Whether a value can end with this token: a sign behind it adds or subtracts. */
function endsValue(token: IToken | undefined, before: IToken | undefined): boolean {
  if (token === undefined || isTo(token, before)) return false;
  const { tokenType } = token;
  if (tokenType === t.NumberWord || tokenType === t.Unit || tokenType === t.Text) return true;
  if (tokenType === t.Close || tokenType === t.CurveClose || t.isA(token, t.Tag)) return true;
  return t.isA(token, t.AnyName) && before?.tokenType === t.Dot;
}
