// The colouring grammar for editors, made from the words of the language so that the two can't drift apart.
import { CLAUSE_WORDS, FUNCTIONS, KINDS, OTHER_HEADS, PER_WORDS, VALUE_WORDS } from './words.ts';

interface Rule {
  readonly name?: string;
  readonly match?: string;
  readonly begin?: string;
  readonly end?: string;
  readonly captures?: Readonly<Record<string, { readonly name: string }>>;
  readonly patterns?: readonly Rule[];
  readonly include?: string;
}

/** As plain data, ready to be written as JSON. */
export function textmateGrammar(): object {
  return {
    name: 'Plant',
    scopeName: 'source.plant',
    patterns: [
      '#comment',
      '#string',
      '#date',
      '#declaration',
      '#number',
      '#clause',
      '#value-word',
      '#function',
      '#property',
      '#reference',
      '#operator',
    ].map(include => ({ include })),
    repository: rules,
  };
}

const word = '[\\p{L}_][\\p{L}\\p{N}_]*';
const any = (words: readonly string[]): string => `(?:${words.join('|')})`;

const rules: Readonly<Record<string, Rule>> = {
  comment: {
    patterns: [
      { name: 'comment.line.documentation.plant', match: '##.*$' },
      { name: 'comment.line.number-sign.plant', match: '#.*$' },
    ],
  },
  string: {
    name: 'string.quoted.double.plant',
    begin: '"',
    end: '"|$',
    patterns: [{ name: 'constant.character.escape.plant', match: '\\\\["\\\\]' }],
  },
  date: { name: 'constant.other.date.plant', match: '\\b\\d{4}-\\d{2}-\\d{2}\\b' },
  declaration: {
    patterns: [
      {
        match: `^\\s*(part|catalogue)\\s+(${any(KINDS)})\\b(?:\\s+(${word}))?`,
        captures: {
          1: { name: 'keyword.declaration.plant' },
          2: { name: 'storage.type.plant' },
          3: { name: 'entity.name.type.plant' },
        },
      },
      {
        match: `^\\s*(${any(KINDS)})\\s+(${word})`,
        captures: { 1: { name: 'storage.type.plant' }, 2: { name: 'entity.name.type.plant' } },
      },
      { name: 'keyword.declaration.plant', match: `^\\s*${any(OTHER_HEADS)}\\b` },
    ],
  },
  // A number with the unit behind it, glued or after a blank; a word that begins a clause is no unit.
  number: {
    match: `(?<![\\p{L}\\p{N}_.])([-−+]?\\d[\\d_]*(?:\\.\\d+)?(?:[eE][-+]?\\d+)?)(?:[ \\u00a0]*(?!${any(CLAUSE_WORDS)}\\b)([%‰°\\p{L}µΩ][\\p{L}\\p{N}µΩ°²³/*·]*))?`,
    captures: { 1: { name: 'constant.numeric.plant' }, 2: { name: 'keyword.other.unit.plant' } },
  },
  clause: {
    name: 'keyword.control.clause.plant',
    match: `(?<![.\\p{L}\\p{N}_])${any([...CLAUSE_WORDS, 'to'])}(?![\\p{L}\\p{N}_])(?!\\s*=)`,
  },
  'value-word': {
    name: 'keyword.operator.word.plant',
    match: `(?<![.\\p{L}\\p{N}_])${any([...VALUE_WORDS, ...PER_WORDS, 'log', 'columns'])}(?![\\p{L}\\p{N}_])(?!\\s*=)`,
  },
  function: { name: 'support.function.plant', match: `\\b${any(FUNCTIONS)}(?=\\s*\\()` },
  property: {
    match: `((?:${word}\\.)*)(${word})(?=\\s*=(?!=))`,
    captures: { 1: { name: 'variable.other.plant' }, 2: { name: 'variable.other.property.plant' } },
  },
  reference: { name: 'variable.other.plant', match: word },
  operator: { name: 'keyword.operator.plant', match: '->|→|\\.\\.|±|\\+/-|\\+-|<=|>=|≤|≥|==|!=|[-+*/^<>=×·]' },
};
