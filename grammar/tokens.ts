// The tokens of the language, and the lexer that cuts text into them.
//
// Two things are decided here by what stands before: the word behind a number on the same line is its unit, and what
// looks like a date is one. What line ends, commas and braces mean is decided in layout.ts.

import { createToken, type IToken, Lexer, type TokenType } from 'chevrotain';
import { later } from './later.ts';
import { FREE_WORDS, isClauseWord, KEYWORDS } from './words.ts';

/** Categories: what a token may stand for beside itself. */
export const Leftover = category('Leftover');
export const CurveItem = category('CurveItem');
export const AnyName = category('AnyName', Leftover);
export const Tag = category('Tag', AnyName);
export const Operator = category('Operator', Leftover);
export const Sign = category('Sign', Operator);

/** Hints only: what is none after all is found out by the pattern. */
const wordStarts = startsMatching(/[A-Za-z_]/);
const unitStarts = startsMatching(/[A-Za-z%$]/);
const anyStart = startsMatching(/./s);

/** Everything that shows as white or as nothing and ends no line. */
export const Blank = createToken({
  name: 'Blank',
  pattern: /[ \t\v\f\u0085\u00a0\u1680\u2000-\u200d\u2028\u2029\u202f\u205f\u2060\u3000\ufeff]+/,
  group: Lexer.SKIPPED,
  line_breaks: false,
});
/** One or more line ends with all the blanks around them. */
export const LineEnd = createToken({ name: 'LineEnd', pattern: /[\r\n]\s*/, line_breaks: true });
export const Doc = createToken({ name: 'Doc', pattern: /##(?!#)[^\r\n]*/, line_breaks: false });
export const Comment = createToken({ name: 'Comment', pattern: /#[^\r\n]*/, line_breaks: false });

/**
 * Compound units are glued, and what is glued to a unit is unit: `4 kW/x` is 4 of the unit kW/x (which nobody knows),
 * `4 kW / x` divides. A sign in front of a digit or a parenthesis ends the unit: `4 kW/2` and `4 kW/(x + 1)` divide.
 */
const unitPattern = later(() => {
  const factor = '(?:[%‰]|[°º˚][\\p{L}\\p{M}\\p{N}_⁻]*|[\\p{L}\\p{Sc}℃][\\p{L}\\p{M}\\p{N}_⁻]*)(?:\\^[-−]?\\d+)?';
  return new RegExp(`${factor}(?:[*·×⋅∙/]${factor})*`, 'uy');
});
/** Most units, which end where surely no unit goes on: the classes of all letters are slow to set up. */
const usualUnit = /(?:%|°[A-Za-z]|([A-Za-zΩµ]+)[²³]?)(?:[*·/][A-Za-zΩµ]+[²³]?)*(?=[\s,)}]|$)/y;
const leadingWord = later(() => /[\p{L}_]+/uy);
const equalsBehind = /[ \t\u00a0]*=(?!=)/y;

export const Unit = item('Unit', { pattern: { exec: matchUnit }, start_chars_hint: unitStarts, line_breaks: false });
export const Name = createToken({
  name: 'Name',
  pattern: { exec: matchName },
  start_chars_hint: wordStarts,
  line_breaks: false,
  categories: [Tag, CurveItem],
});
export const DateWord = item('DateWord', { pattern: /\d{4}-\d{2}-\d{2}(?![\d_.])/ });
/** With its commas, so that the decimal-comma mistake stays one token. */
export const NumberWord = item('NumberWord', {
  pattern: /\d+(?:_\d+)*(?:\.\d+(?:_\d+)*)?(?:,\d+(?:_\d+)*(?:\.\d+)?)*(?:[eE][+\-\u2212]?\d+)?/,
});
const texts = /"(?:[^"\\\r\n]|\\[^\r\n])*(?:"|\\)?|[“”„][^“”„\r\n]*[“”]/y;
/** Ends at its quote, or at the line end when the quote is missing. Curly quotes are read too, and reported. */
export const Text = item('Text', {
  pattern: { exec: (text, offset) => matchOf(texts, text, offset) },
  start_chars_hint: ['"', '“', '”', '„'],
  line_breaks: false,
});
export const Arrow = item('Arrow', { pattern: /[-\u2212\u2013]>|\u2192/ });
export const PlusMinus = operator('PlusMinus', /\u00b1|\+\/[-\u2212]|\+[-\u2212]/);
export const Range = operator('Range', /\.\.|\u2025|\u2026/);
export const Compare = operator('Compare', /<=|>=|==|!=|[\u2264\u2265\u2260<>]/);
export const Plus = operator('Plus', /\+/, Sign);
export const Minus = operator('Minus', /[-\u2212\u2010\u2011\u2013]/, Sign);
export const Times = operator('Times', /[*\u00d7\u00b7\u22c5\u2219]/);
export const Over = operator('Over', /[/\u2044\u2215]/);
export const Power = operator('Power', /\^/);
export const Equals = item('Equals', { pattern: /=/ });
export const Dot = item('Dot', { pattern: /\./ });
export const Colon = item('Colon', { pattern: /:/ });
export const Comma = item('Comma', { pattern: /,/ });
export const Open = item('Open', { pattern: /\(/ });
/** Of no category: nothing but its partner takes it. */
export const Close = createToken({ name: 'Close', pattern: /\)/ });
export const BraceOpen = item('BraceOpen', { pattern: /\{/ });
export const BraceClose = item('BraceClose', { pattern: /\}/ });
const strays = later(
  () =>
    /(?:!(?!=)|[“-„]|[^\s\p{L}\d_"“-„#{}().,=:+\-*/^<>!±‥…→≠≤≥×·⋅∙⁄∕−\u2010\u2011\u2013\u0085\u200b-\u200d\u2060])+/uy,
);
/** A run of characters that mean nothing to the language. */
export const Stray = item('Stray', {
  pattern: { exec: (text, offset) => matchOf(strays(), text, offset) },
  start_chars_hint: anyStart,
  line_breaks: false,
});

/** What layout.ts makes of commas, line ends and braces. */
export const Separator = virtual('Separator');
export const BlockOpen = virtual('BlockOpen');
export const BlockClose = virtual('BlockClose');
export const CurveOpen = virtual('CurveOpen', Leftover);
export const CurveClose = virtual('CurveClose', Leftover);
export const RowEnd = virtual('RowEnd', CurveItem, Leftover);

const words = new Map<string, TokenType>();
for (const text of [...KEYWORDS, ...FREE_WORDS]) {
  const isFree = FREE_WORDS.some(free => free === text);
  const name = `${text.charAt(0).toUpperCase()}${text.slice(1)}Word`;
  words.set(text, createToken({ name, pattern: Lexer.NA, categories: [isFree ? Tag : AnyName, CurveItem] }));
}

/** The token type of a keyword, or of a word that is special in one place. */
export function word(text: string): TokenType {
  const type = words.get(text);
  if (type === undefined) throw new Error(`not a word of the language: ${text}`);
  return type;
}

// The first that matches wins.
const lexed: TokenType[] = [Blank, LineEnd, Doc, Comment, Unit, Name, DateWord, NumberWord, Text];
lexed.push(Arrow, PlusMinus, Range, Compare, Plus, Minus, Times, Over, Power, Equals, Dot, Colon, Comma);
lexed.push(Open, Close, BraceOpen, BraceClose, Stray);

const made = [Separator, BlockOpen, BlockClose, CurveOpen, CurveClose, RowEnd];
const categories = [Leftover, CurveItem, AnyName, Tag, Operator, Sign];
/** Everything that the parser may meet. */
export const vocabulary: TokenType[] = [...lexed, ...words.values(), ...made, ...categories];

/** Exported with its validation for the test that runs it. */
export const buildLexer = (skipValidations: boolean): Lexer =>
  new Lexer(lexed, { positionTracking: 'onlyOffset', ensureOptimizations: true, skipValidations });

const lexer = buildLexer(true);

/** Cuts text into tokens, comments and line ends among them, and knows keywords from names. Never fails. */
export function lex(text: string): IToken[] {
  const { tokens } = lexer.tokenize(text);
  for (const token of tokens) {
    token.endOffset = token.startOffset + token.image.length - 1;
    const type = token.tokenType === Name ? words.get(token.image) : undefined;
    if (type !== undefined) retype(token, type);
  }
  return tokens;
}

export function retype(token: IToken, type: TokenType): void {
  token.tokenType = type;
  token.tokenTypeIdx = type.tokenTypeIdx ?? -1;
}

/** Whether a token is of a type or category. */
export function isA(token: IToken | undefined, type: TokenType): boolean {
  return token !== undefined && (token.tokenType === type || type.categoryMatchesMap?.[token.tokenTypeIdx] === true);
}

/** A string that ends without its quote. */
export function isBroken({ image }: IToken): boolean {
  if (!image.startsWith('"')) return false;
  if (image.length < 2 || !image.endsWith('"')) return true;
  const backslashes = /\\*$/.exec(image.slice(1, -1))?.[0].length ?? 0;
  return backslashes % 2 === 1;
}

/** A token that the author has not written: it stands, without width, where `offset` is. */
export function inserted(type: TokenType, offset: number): IToken {
  const place = { startOffset: offset, endOffset: offset - 1 };
  return { image: '', tokenType: type, tokenTypeIdx: type.tokenTypeIdx ?? -1, ...place };
}

function matchUnit(text: string, offset: number, tokens: IToken[]): [string] | null {
  if (tokens.at(-1)?.tokenType !== NumberWord || isSign(text, offset)) return null;
  usualUnit.lastIndex = offset;
  const usual = usualUnit.exec(text);
  const match = usual?.[0] ?? matchAt(unitPattern(), text, offset);
  if (match === undefined) return null;
  const word = usual === null ? matchAt(leadingWord(), text, offset) : usual[1];
  if (isClauseWord(word ?? '')) return null;
  // `parallel = 4 conductor = copper` lacks a comma; the word is the next property.
  equalsBehind.lastIndex = offset + match.length;
  return equalsBehind.test(text) ? null : [match];
}

/** Names of other letters than the usual ones are rare, and their classes slow to set up. */
const usualName = /[A-Za-z_][A-Za-z0-9_]*/y;
const fullName = later(() => /[\p{L}_][\p{L}\p{M}\p{Nd}_]*/uy);

function matchName(text: string, offset: number): [string] | null {
  if (isSign(text, offset)) return null;
  const usual = matchAt(usualName, text, offset);
  const ended = usual !== undefined && !(text.charCodeAt(offset + usual.length) > 127);
  const match = ended ? usual : matchAt(fullName(), text, offset);
  return match === undefined ? null : [match];
}

/** Signs beyond ASCII begin neither names nor units, which need not be asked of the classes of all letters. */
function isSign(text: string, offset: number): boolean {
  return text.charCodeAt(offset) > 127 && '±‥…→≠≤≥×·⋅∙⁄∕−\u2010\u2011\u2013'.includes(text.charAt(offset));
}

function matchAt(pattern: RegExp, text: string, offset: number): string | undefined {
  pattern.lastIndex = offset;
  return pattern.exec(text)?.[0];
}

function matchOf(pattern: RegExp, text: string, offset: number): [string] | null {
  const match = matchAt(pattern, text, offset);
  return match === undefined ? null : [match];
}

function category(name: string, ...categories: TokenType[]): TokenType {
  return createToken({ name, pattern: Lexer.NA, categories });
}

function virtual(name: string, ...categories: TokenType[]): TokenType {
  return createToken({ name, pattern: Lexer.NA, categories });
}

function item(name: string, config: Partial<Parameters<typeof createToken>[0]>): TokenType {
  return createToken({ name, ...config, categories: [Leftover, CurveItem] });
}

function operator(name: string, pattern: RegExp, kind = Operator): TokenType {
  return createToken({ name, pattern, categories: [kind, CurveItem] });
}

/**
 * Those of the first 128 characters that match, and all others. The lexer sorts characters from 256 on into buckets of
 * 255: one of each bucket stands for all.
 */
function startsMatching(pattern: RegExp): number[] {
  const ascii = Array.from({ length: 128 }, (_, code) => code).filter(code => pattern.test(String.fromCharCode(code)));
  const latin = Array.from({ length: 128 }, (_, index) => 128 + index);
  return [...ascii, ...latin, ...Array.from({ length: 257 }, (_, bucket) => Math.min(256 + bucket * 255, 65535))];
}
