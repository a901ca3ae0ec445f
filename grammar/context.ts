// Where in the language a cursor stands, on text that is being written: what completion asks before it offers anything.

import type { IToken } from 'chevrotain';
import type { PlacedChunk, SourceTree, Span } from './ast.ts';
import { propertiesOf } from './print.ts';
import * as t from './tokens.ts';
import { isKind } from './words.ts';

/** What may come at the cursor. Paths hold the names before the cursor that end in a dot: `T1.` gives `['T1']`. */
export type Place =
  | { readonly where: 'top' }
  /** Behind `part` or `catalogue`: a kind. */
  | { readonly where: 'kind'; readonly after: 'part' | 'catalogue' }
  /** Behind a kind, `let`, `case` or `as`: a new name. */
  | { readonly where: 'name'; readonly head: string }
  /** Behind the name in a head: `is`, `from` or a brace. */
  | { readonly where: 'head'; readonly head: string }
  /** Behind `is`, or `is pick` (then a catalogue). */
  | { readonly where: 'base'; readonly kind: string; readonly pick: boolean; readonly path: readonly string[] }
  | { readonly where: 'row'; readonly kind: string }
  | {
      readonly where: 'property';
      readonly kind: string;
      /** In a case: the names before the dot. */
      readonly path: readonly string[];
      /** Names, or whole paths in a case, of the other properties of the block. */
      readonly present: readonly string[];
    }
  | {
      readonly where: 'value';
      readonly kind: string;
      /** The property, or the whole path in a case; `undefined` in a `let`. */
      readonly property: string | undefined;
      readonly path: readonly string[];
      /** Nothing of the value has been written before the cursor's word. */
      readonly empty: boolean;
      /** A value is complete before the cursor's word: a clause or an operator may follow. */
      readonly complete: boolean;
    }
  /** Behind a number: its unit. */
  | { readonly where: 'unit'; readonly kind: string; readonly property: string | undefined; readonly number: string }
  /** Between the braces of a curve. */
  | { readonly where: 'points'; readonly kind: string; readonly property: string | undefined }
  | { readonly where: 'connect'; readonly chain: readonly string[]; readonly afterArrow: boolean }
  /** The cases behind `is`. */
  | { readonly where: 'cases'; readonly taken: readonly string[] }
  | { readonly where: 'require'; readonly path: readonly string[]; readonly empty: boolean; readonly complete: boolean }
  /** Behind `during`. */
  | { readonly where: 'duty' }
  /** Behind `accept`. */
  | { readonly where: 'code' }
  /** Behind `accept code on`. */
  | { readonly where: 'tag'; readonly code: string | undefined }
  /** In an `accept` where its next clause may come: `on`, `up to`, `down to`, `until`, `because`. */
  | { readonly where: 'accept'; readonly written: readonly string[] }
  | { readonly where: 'date' }
  /** Behind `use`, in the quotes or before them. */
  | { readonly where: 'path'; readonly quoted: boolean }
  /** Inside other quotes, or where nothing can be offered. */
  | { readonly where: 'text' }
  | { readonly where: 'comment' };

export interface Cursor {
  readonly place: Place;
  /** What stands before the cursor of the word that is being written. */
  readonly prefix: string;
  /** The whole word at the cursor, in offsets of the file: what a completion replaces. */
  readonly replace: Span;
  readonly placed: PlacedChunk | undefined;
}

/** What a cursor's place is read from. */
interface Scene {
  /** Significant tokens of the logical line before the word at the cursor. */
  readonly line: readonly IToken[];
  /** Significant tokens of the head line of the declaration. */
  readonly head: readonly IToken[];
  readonly depth: number;
  /** Tokens of the line on which the innermost brace was opened, before the brace. */
  readonly opening: readonly IToken[];
  /** That brace opened the points of a curve. */
  readonly inCurve: boolean;
  readonly local: number;
  readonly placed: PlacedChunk | undefined;
}

/** The place of an offset in a file. Never throws, on half-written text least of all. */
export function contextAt(tree: SourceTree, offset: number): Cursor {
  const placed = tree.chunks.findLast(({ start }) => start <= offset);
  const local = offset - (placed?.start ?? 0);
  const before = placed?.chunk.text.slice(0, local) ?? '';
  const tokens = t.lex(before);
  const last = tokens.at(-1);
  const touching = last !== undefined && last.startOffset + last.image.length === before.length ? last : undefined;
  const word = touching !== undefined && isWordLike(touching) ? touching : undefined;
  const start = word === undefined ? offset : offset - word.image.length;
  const replace = { start, end: offset + restOfWord(tree.text, offset) };
  const prefix = word?.image ?? '';
  const done = (place: Place): Cursor => ({ place, prefix, replace, placed });
  if (touching?.tokenType === t.Comment || touching?.tokenType === t.Doc) return done({ where: 'comment' });
  if (touching?.tokenType === t.Text && t.isBroken(touching)) return inText(tree, tokens, touching, offset, placed);
  return done(placeOf(readScene(word === undefined ? tokens : tokens.slice(0, -1), local, placed)));
}

/** In a text the replaced part is all between the quotes. */
function inText(
  tree: SourceTree,
  tokens: readonly IToken[],
  text: IToken,
  offset: number,
  placed: PlacedChunk | undefined,
): Cursor {
  const start = (placed?.start ?? 0) + text.startOffset + 1;
  const rest = /^[^"\r\n]*/.exec(tree.text.slice(offset, offset + 1000))?.[0] ?? '';
  const isPath = tokens.at(-2)?.image === 'use';
  const place: Place = isPath ? { where: 'path', quoted: true } : { where: 'text' };
  return { place, prefix: text.image.slice(1), replace: { start, end: offset + rest.length }, placed };
}

function isWordLike(token: IToken): boolean {
  return (
    t.isA(token, t.AnyName) || token.tokenType === t.Unit || (token.tokenType === t.Stray && /^[%°]/.test(token.image))
  );
}

function restOfWord(text: string, offset: number): number {
  return /^[\p{L}\p{M}\p{Nd}_²³]*/u.exec(text.slice(offset, offset + 200))?.[0].length ?? 0;
}

interface Opening {
  readonly line: IToken[];
  readonly isCurve: boolean;
}

function readScene(tokens: readonly IToken[], local: number, placed: PlacedChunk | undefined): Scene {
  const openings: Opening[] = [];
  let head: readonly IToken[] | undefined;
  let line: IToken[] = [];
  let parens = 0;
  for (const token of tokens) {
    const type = token.tokenType;
    if (type === t.Comment || type === t.Doc) continue;
    if (type === t.BraceOpen) {
      head ??= line;
      openings.push({ line, isCurve: isCurveLine(line) });
      line = [];
      parens = 0;
    } else if (type === t.BraceClose) {
      line = closeBrace(openings, token);
      parens = 0;
    } else if (type === t.LineEnd || (type === t.Comma && openings.length > 0 && parens === 0)) {
      const isOpen = parens > 0 || goesOn(line.at(-1)) || (type === t.Comma && line.at(-2)?.image === 'curve');
      if (isOpen && line.length > 0) {
        if (type === t.Comma) line.push(token);
        continue;
      }
      if (openings.length === 0 && line.length > 0) head ??= line;
      line = [];
      parens = 0;
    } else {
      if (type === t.Open) parens++;
      if (type === t.Close) parens = Math.max(0, parens - 1);
      line.push(token);
    }
  }
  const opening = openings.at(-1);
  return {
    line,
    head: head ?? line,
    depth: openings.length,
    opening: opening?.line ?? [],
    inCurve: opening?.isCurve === true,
    local,
    placed,
  };
}

/** The line that goes on behind a closing brace: a property behind its curve, nothing behind a block. */
function closeBrace(openings: Opening[], token: IToken): IToken[] {
  const opening = openings.pop();
  if (opening?.isCurve === true) {
    opening.line.push(token);
    return opening.line;
  }
  return openings.length === 0 ? [token] : [];
}

function isCurveLine(line: readonly IToken[]): boolean {
  return line.some(({ tokenType, image }) => tokenType === t.Equals || image === 'curve');
}

function goesOn(last: IToken | undefined): boolean {
  return last !== undefined && (last.tokenType === t.Arrow || last.tokenType === t.Comma || t.isA(last, t.Operator));
}

function placeOf(scene: Scene): Place {
  const { line, head, depth, opening, inCurve } = scene;
  const first = head[0];
  if (depth === 0) return topPlace(line);
  const kind = kindOf(head);
  if (inCurve) return pointsPlace(line, kind, propertyName(opening) ?? letName(opening));
  if (first?.image === 'catalogue' && depth === 1)
    return line.length === 0 ? { where: 'row', kind } : { where: 'head', head: 'row' };
  return blockPlace(scene, kind);
}

function kindOf(head: readonly IToken[]): string {
  const [first, second] = head;
  return (first?.image === 'part' || first?.image === 'catalogue' ? second?.image : first?.image) ?? '';
}

function blockPlace({ line, placed, local }: Scene, kind: string): Place {
  const equals = line.findIndex(({ tokenType }) => tokenType === t.Equals);
  if (equals >= 0) return valuePlace(line.slice(equals + 1), kind, propertyName(line));
  const path = pathBefore(line);
  if (path.length === 0 && line.length > 0) return { where: 'text' };
  return { where: 'property', kind, path, present: presentAt(placed, local) };
}

/** The properties of the block around an offset, without the one that it is in. */
function presentAt(placed: PlacedChunk | undefined, local: number): string[] {
  const declaration = placed?.chunk.declaration;
  const isAround = ({ start, end }: Span): boolean => start <= local && local <= end;
  const row = declaration?.type === 'catalogue' ? declaration.rows.find(isAround) : undefined;
  const properties = declaration?.type === 'catalogue' ? (row?.properties ?? []) : propertiesOf(declaration);
  const others = properties.filter(({ target }) => {
    const last = target.at(-1);
    return last !== undefined && !(target[0]!.start <= local && local <= last.end);
  });
  return others.map(({ target }) => target.map(({ text }) => text).join('.'));
}

function propertyName(line: readonly IToken[]): string | undefined {
  const equals = line.findIndex(({ tokenType }) => tokenType === t.Equals);
  if (equals <= 0 || line[0]?.image === 'let') return undefined;
  return line
    .slice(0, equals)
    .map(({ image }) => image)
    .join('');
}

function letName(line: readonly IToken[]): string | undefined {
  return line[0]?.image === 'let' ? undefined : line[0]?.image;
}

function valuePlace(value: readonly IToken[], kind: string, property: string | undefined): Place {
  const last = value.at(-1);
  if (last?.tokenType === t.NumberWord) return { where: 'unit', kind, property, number: last.image };
  if (last?.image === 'from' || last?.image === 'assumed') return { where: 'text' };
  const path = pathBefore(value);
  const complete = path.length === 0 && endsValue(last);
  return { where: 'value', kind, property, path, empty: value.length === 0, complete };
}

function pointsPlace(line: readonly IToken[], kind: string, property: string | undefined): Place {
  const last = line.at(-1);
  if (last?.tokenType === t.NumberWord) return { where: 'unit', kind, property, number: last.image };
  return { where: 'points', kind, property };
}

function endsValue(last: IToken | undefined): boolean {
  if (last === undefined) return false;
  const { tokenType } = last;
  if (tokenType === t.Unit || tokenType === t.Text || tokenType === t.Close || tokenType === t.BraceClose) return true;
  return t.isA(last, t.Tag) || last.image === 'pick';
}

/** The names before a dot at the end: `a.b.` gives a and b; nothing without the dot. */
function pathBefore(line: readonly IToken[]): string[] {
  const path: string[] = [];
  let index = line.length - 1;
  while (line[index]?.tokenType === t.Dot && t.isA(line[index - 1], t.AnyName)) {
    path.push(line[index - 1]!.image.normalize('NFC'));
    index -= 2;
  }
  return path.reverse();
}

function topPlace(line: readonly IToken[]): Place {
  const [first, second] = line;
  if (first === undefined) return { where: 'top' };
  const word = first.image;
  if (first.tokenType === t.BraceClose) return { where: 'text' };
  if (word === 'connect') return connectPlace(line);
  if (word === 'use') return usePlace(line);
  if (word === 'require') return requirePlace(line);
  if (word === 'accept') return acceptPlace(line);
  if (word === 'let') {
    if (line.length === 1) return { where: 'name', head: 'let' };
    const equals = line.findIndex(({ tokenType }) => tokenType === t.Equals);
    return equals < 0 ? { where: 'text' } : valuePlace(line.slice(equals + 1), 'let', undefined);
  }
  if (word === 'case') return casePlace(line);
  if (word === 'part' || word === 'catalogue') {
    if (second === undefined) return { where: 'kind', after: word };
    return headPlace(line.slice(1), second.image, word);
  }
  return isKind(word) ? headPlace(line, word, word) : { where: 'text' };
}

/** Behind a kind: its name, then `is` and a part. */
function headPlace(line: readonly IToken[], kind: string, head: string): Place {
  if (line.length === 1) return { where: 'name', head: kind };
  const is = line.findIndex(({ image }) => image === 'is');
  if (is < 0) return line.at(-1)?.image === 'from' || line.length > 2 ? { where: 'text' } : { where: 'head', head };
  const behind = line.slice(is + 1);
  const pick = behind[0]?.image === 'pick';
  const path = pathBefore(behind);
  const written = behind.length - (pick ? 1 : 0);
  return written === 0 || path.length > 0 ? { where: 'base', kind, pick, path } : { where: 'text' };
}

function connectPlace(line: readonly IToken[]): Place {
  const chain = line
    .slice(1)
    .filter(token => t.isA(token, t.AnyName))
    .map(({ image }) => image);
  const last = line.at(-1);
  return { where: 'connect', chain, afterArrow: line.length === 1 || last?.tokenType === t.Arrow };
}

function usePlace(line: readonly IToken[]): Place {
  if (line.length === 1) return { where: 'path', quoted: false };
  if (line.at(-1)?.image === 'as') return { where: 'name', head: 'as' };
  return line.length === 2 ? { where: 'head', head: 'use' } : { where: 'text' };
}

function casePlace(line: readonly IToken[]): Place {
  if (line.length === 1) return { where: 'name', head: 'case' };
  const is = line.findIndex(({ image }) => image === 'is');
  if (is < 0) return line.length === 2 ? { where: 'head', head: 'case' } : { where: 'text' };
  const taken = line
    .slice(is + 1)
    .filter(token => t.isA(token, t.Tag))
    .map(({ image }) => image);
  const last = line.at(-1);
  return last?.image === 'is' || last?.tokenType === t.Comma ? { where: 'cases', taken } : { where: 'text' };
}

function requirePlace(line: readonly IToken[]): Place {
  const last = line.at(-1);
  if (last?.image === 'during') return { where: 'duty' };
  if (line.some(({ image }) => image === 'because')) return { where: 'text' };
  if (last?.tokenType === t.NumberWord)
    return { where: 'unit', kind: 'require', property: undefined, number: last.image };
  const path = pathBefore(line);
  const isFresh = line.length === 1 || last?.tokenType === t.Colon;
  return { where: 'require', path, empty: isFresh, complete: path.length === 0 && !isFresh && endsValue(last) };
}

function acceptPlace(line: readonly IToken[]): Place {
  const last = line.at(-1);
  if (line.length === 1) return { where: 'code' };
  if (last?.image === 'on') return { where: 'tag', code: line[1]?.image };
  if (last?.image === 'until') return { where: 'date' };
  if (last?.image === 'because' || last?.tokenType === t.Text) return { where: 'text' };
  if (last?.tokenType === t.NumberWord)
    return { where: 'unit', kind: 'accept', property: undefined, number: last.image };
  const words = ['on', 'up', 'down', 'until', 'because'];
  return { where: 'accept', written: line.map(({ image }) => image).filter(image => words.includes(image)) };
}
