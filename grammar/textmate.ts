// Makes the colouring grammar that editors read before the language server has anything to say, from the same words.
//
// It knows single matches only, no nesting: every token of the language ends on its line.

import { CLAUSE_WORDS, FREE_WORDS, FUNCTIONS, KINDS, OTHER_HEADS, VALUE_WORDS } from './words.ts';

export interface ColourRule {
  readonly name?: string;
  readonly match: string;
  readonly captures?: Readonly<Record<string, { readonly name: string }>>;
}

export interface ColourGrammar {
  readonly name: string;
  readonly scopeName: string;
  readonly fileTypes: readonly string[];
  readonly patterns: readonly ColourRule[];
}

const NAME = '[\\p{L}_][\\p{L}\\p{M}\\p{Nd}_]*';
const PATH = `${NAME}(?:\\.${NAME})*`;
const BLANK = '[ \\t\\x{a0}]';
const END = '(?![\\p{L}\\p{M}\\p{Nd}_])';
const START = '(?<![\\p{L}\\p{M}\\p{Nd}_.])';
const FACTOR = '(?:[%‰]|[°º˚]?[\\p{L}\\p{Sc}℃][\\p{L}\\p{M}\\p{N}_⁻]*|[°º˚])(?:\\^[-−]?\\d+)?';
const UNIT = `${FACTOR}(?:[*·×⋅∙/]${FACTOR})*`;
const NUMBER = '\\d[\\d_]*(?:\\.\\d[\\d_]*)?(?:[eE][+−-]?\\d+)?';

const oneOf = (words: readonly string[]): string => `(?:${words.join('|')})${END}`;
const scopes = (...names: string[]): Record<string, { name: string }> =>
  Object.fromEntries(names.map((name, index) => [String(index + 1), { name: `${name}.plant` }]));

/** The grammar as plain data, ready to be written as JSON. Its expressions are Oniguruma's. */
export function colourGrammar(): ColourGrammar {
  const assignment = `(?=${BLANK}*=(?!=))`;
  const noAssignment = `(?!${BLANK}*=(?!=))`;
  return {
    name: 'Plant',
    scopeName: 'source.plant',
    fileTypes: ['plant'],
    patterns: [
      { name: 'comment.line.documentation.plant', match: '##(?!#).*$' },
      { name: 'comment.line.number-sign.plant', match: '#.*$' },
      { name: 'string.quoted.double.plant', match: '"(?:[^"\\\\]|\\\\.)*(?:"|\\\\?$)' },
      { name: 'constant.other.date.plant', match: `${START}\\d{4}-\\d{2}-\\d{2}(?![\\d_.])` },
      {
        match: `${START}(${NUMBER})(?:${BLANK}*(?!${oneOf(CLAUSE_WORDS)})(${UNIT})${noAssignment})?`,
        captures: scopes('constant.numeric', 'keyword.other.unit'),
      },
      {
        match: `^\\s*(part|catalogue)${BLANK}+(${KINDS.join('|')})${BLANK}+(${NAME})`,
        captures: scopes('keyword.other.declaration', 'storage.type', 'entity.name.type'),
      },
      {
        match: `^\\s*(${KINDS.join('|')})${BLANK}+(?!is${END})(${NAME})${noAssignment}`,
        captures: scopes('storage.type', 'entity.name.type'),
      },
      {
        match: `^\\s*(let|case)${BLANK}+(?!is${END})(${NAME})`,
        captures: scopes('keyword.other.declaration', 'entity.name.type'),
      },
      { name: 'variable.other.property.plant', match: `${START}${PATH}${assignment}` },
      { name: 'variable.other.member.plant', match: `(?<=\\.)${NAME}` },
      { name: 'storage.type.plant', match: `${START}${oneOf(KINDS)}` },
      { name: 'keyword.other.declaration.plant', match: `${START}${oneOf(OTHER_HEADS)}` },
      { name: 'keyword.control.plant', match: `${START}${oneOf([...CLAUSE_WORDS, ...VALUE_WORDS, ...FREE_WORDS])}` },
      { name: 'support.function.plant', match: `${START}${oneOf(FUNCTIONS)}(?=${BLANK}*\\()` },
      { name: 'variable.other.plant', match: `${START}${NAME}` },
      { name: 'keyword.operator.plant', match: '->|→|\\+/-|[<>=!]=|\\.\\.|[-+*/^=<>±×·−–≤≥≠…‥]' },
      { name: 'punctuation.separator.plant', match: '[{}(),.:]' },
    ],
  };
}
