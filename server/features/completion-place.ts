// Where the cursor stands for completion, told from the text before it: what is being written has no tree yet.
import type { SourceTree } from '../../grammar/ast.ts';
import { chunkAt } from './locate.ts';

export interface CompletionPlace {
  /** The part of a word before the cursor, which what is chosen replaces. */
  readonly prefix: string;
  /** Offset in the file where it begins. */
  readonly start: number;
  /** The declaration as far as it is written, without the prefix, its strings and comments blanked. */
  readonly before: string;
  readonly head: Head;
  /** Blocks that are open around the cursor. */
  readonly depth: number;
  /** What stands before the prefix since the last line end, comma or brace. */
  readonly statement: string;
  /** Everything that the block around the cursor holds, also behind it. */
  readonly block: string;
}

export interface Head {
  /** The words before the first brace, quotes and signs left out: `part battery LfpString`. */
  readonly words: readonly string[];
  readonly part: boolean;
  /** `battery`, `case`, `require` …; empty where nothing is written yet. */
  readonly word: string;
}

/** The cursor stands in text in quotes: `start` is where that begins. */
export interface QuotedPlace {
  readonly quoted: true;
  readonly start: number;
  readonly head: Head;
}

/** Undefined in a comment, where nothing is offered. */
export function completionPlace(tree: SourceTree, offset: number): CompletionPlace | QuotedPlace | undefined {
  const placed = chunkAt(tree, offset);
  const chunkStart = placed?.start ?? 0;
  const whole = placed?.chunk.text ?? '';
  const cursor = offset - chunkStart;
  const written = blankOut(whole.slice(0, cursor));
  if (written.open === 'comment') return undefined;
  const head = headOf(written.text);
  if (written.open === 'string') return { quoted: true, start: chunkStart + written.openAt + 1, head };
  const prefix = written.text.match(prefixPattern)?.[0] ?? '';
  const before = written.text.slice(0, written.text.length - prefix.length);
  const opened = openBraces(before);
  const blockStart = opened.at(-1) ?? 0;
  return {
    prefix,
    start: offset - prefix.length,
    before,
    head: headOf(before),
    depth: opened.length,
    statement: before.slice(statementStart(before, opened)),
    block: blankOut(whole.slice(blockStart)).text,
  };
}

/** A word, or the letters and signs of a unit glued to a number. */
const prefixPattern = /(?:[\p{L}_][\p{L}\p{N}_]*|(?<=\d)[\p{L}°Ω%µ‰²³/*·]+|[°Ω%‰][\p{L}²³/*·]*)$/u;

interface Blanked {
  readonly text: string;
  readonly open: 'string' | 'comment' | undefined;
  readonly openAt: number;
}

/** Blanks strings and comments, so that what they hold counts for nothing; offsets stay. */
function blankOut(text: string): Blanked {
  let out = '';
  let open: Blanked['open'];
  let openAt = 0;
  for (let at = 0; at < text.length; at += 1) {
    const character = text[at]!;
    if (character === '\n') {
      open = undefined;
      out += '\n';
    } else if (open === 'string') {
      if (character === '\\') {
        out += '  '.slice(0, text.length - at);
        at += 1;
        continue;
      }
      if (character === '"') open = undefined;
      out += character === '"' ? '"' : ' ';
    } else if (open === 'comment') {
      out += ' ';
    } else {
      if (character === '"') open = 'string';
      if (character === '#') open = 'comment';
      if (open !== undefined) openAt = at;
      out += open === 'comment' ? ' ' : character;
    }
  }
  return { text: out, open, openAt };
}

function headOf(text: string): Head {
  const words = text.split('{', 1)[0]!.match(/[\p{L}_][\p{L}\p{N}_]*/gu) ?? [];
  const part = words[0] === 'part';
  return { words, part, word: (part ? words[1] : words[0]) ?? '' };
}

/** Offsets of the braces that are open at the end. */
function openBraces(text: string): readonly number[] {
  const open: number[] = [];
  for (let at = 0; at < text.length; at += 1) {
    if (text[at] === '{') open.push(at);
    if (text[at] === '}') open.pop();
  }
  return open;
}

function statementStart(text: string, opened: readonly number[]): number {
  const from = (opened.at(-1) ?? -1) + 1;
  let start = from;
  let parentheses = 0;
  for (let at = from; at < text.length; at += 1) {
    const character = text[at];
    if (character === '(') parentheses += 1;
    if (character === ')') parentheses -= 1;
    if (parentheses > 0) continue;
    const ends = character === ',' || character === '}' || (character === '\n' && !goesOn(text.slice(start, at)));
    if (ends) start = at + 1;
  }
  return start;
}

/** A line end counts for nothing behind a sign that wants more. */
function goesOn(line: string): boolean {
  return /(?:->|→|\.\.|[=+*/^±(<>])\s*$/.test(line);
}
