// Cuts a file into chunks, one for each declaration, before anything is parsed.
//
// A head word at the beginning of a line begins a declaration and closes whatever is still open, unless the line is
// indented deeper than the open declaration. Comment lines directly above a head belong to it.

import { later } from './later.ts';
import { isClauseWord, isHead } from './words.ts';

const usualLineWord = /[ \t\u00a0\ufeff]*([A-Za-z_]\w*)(?:[ \t]*\.[ \t]*[A-Za-z_]\w*)*[ \t]*(.?)(.?)/uy;
/** With names in any script. */
const fullLineWord = later(
  () =>
    /[ \t\u00a0\ufeff]*([\p{L}_][\p{L}\p{M}\p{Nd}_]*)(?:[ \t\u00a0]*\.[ \t\u00a0]*[\p{L}_][\p{L}\p{M}\p{Nd}_]*)*[ \t\u00a0]*(.?)(.?)/uy,
);
const CONTINUING = /[-+*/^=<>.,:(±×·⋅∙⁄∕→≤≥≠‥…−]/;

interface Scan {
  /** Braces and parentheses that are open. */
  braces: number;
  parens: number;
  /** The last character that is neither blank nor comment. */
  last: string;
}

/**
 * The offsets at which chunks begin. Linear in the length of the text.
 *
 * `from`: where one is known to begin; what stands before does not matter, for a chunk begins whatever was open. `stop`:
 * whether to look no further than the one that begins there, which is not among them.
 */
export function splitAtHeads(text: string, from = 0, stop?: (start: number) => boolean): number[] {
  const starts: number[] = text.length > from ? [from] : [];
  const scan: Scan = { braces: 0, parens: 0, last: '' };
  let head: string | undefined;
  let headIndent = 0;
  let hasBlock = false;
  let comments: number | undefined;
  let offset = from;
  while (offset < text.length) {
    const end = lineEnd(text, offset);
    const first = skipBlanks(text, offset, end);
    const character = text[first];
    if (first === end) comments = undefined;
    else if (character === '#') comments ??= offset;
    else {
      const indent = first - offset;
      const isInside = scan.braces > 0;
      const word = isInside && indent > headIndent ? undefined : leadingWord(text, offset, first);
      const begins =
        word !== undefined &&
        (word.isHead
          ? !isInside || indent <= headIndent
          : !isInside && startsAnew(word, scan, head, hasBlock, indent === 0));
      if (begins && word !== undefined) {
        const start = comments ?? offset;
        if (start > from) {
          if (stop?.(start) === true) break;
          starts.push(start);
        }
        scan.braces = 0;
        scan.parens = 0;
        scan.last = '';
        head = word.text;
        headIndent = indent;
        hasBlock = false;
      }
      comments = undefined;
      scanLine(text, first, end, scan);
      if (scan.braces > 0 || scan.last === '}') hasBlock = true;
    }
    offset = nextLine(text, end);
  }
  return starts;
}

interface LeadingWord {
  readonly text: string;
  readonly isHead: boolean;
  readonly isAssignment: boolean;
  readonly opensBlock: boolean;
}

/** Of the line at `offset`, of which the first character that is no blank stands at `first`. */
function leadingWord(text: string, offset: number, first: number): LeadingWord | undefined {
  const match = matchLineWord(text, offset, first);
  const word = match?.[1];
  if (match === null || word === undefined) return undefined;
  const isAssignment = match[2] === '=' && match[3] !== '=';
  const isPath = /[.]/.test(match[0]);
  return { text: word, isHead: isHead(word) && !isAssignment && !isPath, isAssignment, opensBlock: match[2] === '{' };
}

function matchLineWord(text: string, offset: number, first: number): RegExpExecArray | null {
  usualLineWord.lastIndex = offset;
  const usual = usualLineWord.exec(text);
  if (usual === null && text.charCodeAt(first) < 128) return null;
  // Behind a dot it would not have seen a name of other letters.
  if (usual !== null && usual[2] !== '.' && isAscii(usual[0])) return usual;
  const full = fullLineWord();
  full.lastIndex = offset;
  return full.exec(text);
}

function isAscii(text: string): boolean {
  for (let index = 0; index < text.length; index++) if (text.charCodeAt(index) > 127) return false;
  return true;
}

/**
 * A line that begins with a word which is no head: a declaration all the same, misspelt perhaps, or a lost line? Only
 * without indentation is it a declaration, so that formatting the one before does not change where it belongs.
 */
function startsAnew(
  word: LeadingWord,
  scan: Scan,
  head: string | undefined,
  hasBlock: boolean,
  isMargin: boolean,
): boolean {
  if (head === undefined) return true;
  if (word.isAssignment || isClauseWord(word.text) || !isMargin || scan.parens > 0) return false;
  if (CONTINUING.test(scan.last)) return false;
  return !(head === 'catalogue' && !hasBlock && word.opensBlock);
}

function scanLine(text: string, from: number, end: number, scan: Scan): void {
  for (let index = from; index < end; index++) {
    const character = text[index]!;
    if (character === '#') return;
    if (character === ' ' || character === '\t') continue;
    if (character === '"') index = textEnd(text, index, end);
    else if (character === '{') scan.braces++;
    else if (character === '}') scan.braces = Math.max(0, scan.braces - 1);
    else if (character === '(') scan.parens++;
    else if (character === ')') scan.parens = Math.max(0, scan.parens - 1);
    scan.last = character;
  }
}

/** Offset of the closing quote, or of the last character of the line. */
function textEnd(text: string, open: number, end: number): number {
  for (let index = open + 1; index < end; index++) {
    if (text[index] === '\\') index++;
    else if (text[index] === '"') return index;
  }
  return end - 1;
}

function skipBlanks(text: string, from: number, end: number): number {
  let index = from;
  while (index < end && isBlank(text.charCodeAt(index))) index++;
  return index;
}

function isBlank(code: number): boolean {
  return code === 32 || code === 9 || code === 0xa0 || code === 0xfeff || code === 11 || code === 12;
}

function lineEnd(text: string, from: number): number {
  for (let index = from; index < text.length; index++) {
    const code = text.charCodeAt(index);
    if (code === 10 || code === 13) return index;
  }
  return text.length;
}

function nextLine(text: string, end: number): number {
  return text[end] === '\r' && text[end + 1] === '\n' ? end + 2 : end + 1;
}
