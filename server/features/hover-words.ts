// Hovers over the words and signs of the language, and over the texts and days that stand behind them.
import { usedPaths } from '../../engine/model/paths.ts';
import type { PlacedChunk } from '../../grammar/ast.ts';
import { Arrow, DateWord, lex, PlusMinus, Range, Text } from '../../grammar/tokens.ts';
import { FUNCTIONS } from '../../grammar/words.ts';
import { meaningOf } from '../render/words.ts';
import type { FileContext } from './context.ts';
import type { Hover } from './hover.ts';
import { chunkAt } from './locate.ts';
import { codeSpan } from './markdown.ts';
import { type Visible, visibleFrom } from './symbols.ts';

/** Of what a used file brings in; more than that is said by its number. */
const shownNames = 12;

/** Undefined where no word, sign or text with a meaning stands. */
export function aboutWord(context: FileContext, offset: number): Hover | undefined {
  const placed = chunkAt(context.tree, offset);
  if (placed === undefined) return undefined;
  const tokens = lex(placed.chunk.text);
  const within = offset - placed.start;
  // At a border the one that ends there counts only where none begins.
  const index = tokens.findLastIndex(({ startOffset, image }) => {
    return startOffset <= within && within <= startOffset + image.length;
  });
  const token = tokens[index];
  if (token === undefined) return undefined;
  const start = placed.start + token.startOffset;
  const before = tokens[index - 1]?.image;
  const isFile = tokens[0]?.image === 'use' && (before === 'use' || before === 'as');
  const markdown = isFile ? aboutFile(context, placed) : meaningOf(wordFor(tokens, index));
  return markdown === undefined ? undefined : { start, end: start + token.image.length, markdown };
}

const functionNames: readonly string[] = FUNCTIONS;
const isFunctionName = (word: string): boolean => functionNames.includes(word);

type Tokens = ReturnType<typeof lex>;

/** A text or a day is explained by the word before it, a sign by its usual spelling. */
function wordFor(tokens: Tokens, index: number): string {
  const { tokenType, image } = tokens[index]!;
  if (tokenType === Text || tokenType === DateWord) return tokens[index - 1]?.image ?? '';
  if (tokenType === PlusMinus) return '±';
  if (tokenType === Range) return '..';
  if (tokenType === Arrow) return '->';
  return isFunctionName(image) && tokens[index + 1]?.image !== '(' ? '' : image;
}

/** `range` in `range.AirCooled`: what stands behind it. */
export function aboutAlias(alias: string, context: FileContext): string | undefined {
  const placed = context.tree.chunks.find(({ chunk: { declaration } }) => {
    return declaration?.type === 'use' && declaration.alias?.text === alias;
  });
  return placed && aboutFile(context, placed);
}

/** What comes from the file that is used there. */
function aboutFile({ path, tree, closure }: FileContext, { start, chunk }: PlacedChunk): string | undefined {
  const end = start + chunk.text.length;
  const used = usedPaths(path, tree).find(({ place }) => start <= place.start && place.end <= end);
  if (used?.target === undefined || closure?.snapshot.files.get(used.target)?.state !== 'text') return undefined;
  const names = visibleFrom(path, tree, closure).filter(({ declared }) => declared.path === used.target);
  const listed = names.slice(0, shownNames).map(({ written, declared: { declaration } }) => {
    return `- ${codeSpan([...headOf(declaration), written].join(' '))}`;
  });
  const more = names.length > shownNames ? [`- and ${names.length - shownNames} more`] : [];
  return ['**use**: from this file come', [...listed, ...more].join('\n')].join('\n\n');
}

/** `part battery`, `practice`, `let`. */
function headOf(declaration: Visible['declared']['declaration']): readonly string[] {
  if (declaration.type === 'let') return ['let'];
  const kind = declaration.kind === undefined ? [] : [declaration.kind.text];
  if (declaration.type === 'catalogue') return ['catalogue', ...kind];
  return declaration.part ? ['part', ...kind] : kind;
}
