// The colouring grammar: read line by line as an editor would, it agrees with the tokens of the language.

import { describe, expect, it } from 'vitest';
import { type ColourRule, colourGrammar } from '../../grammar/textmate.ts';
import { type TokenKind, tokenize } from '../../grammar/tokenize.ts';
import { KEYWORDS } from '../../grammar/words.ts';
import { samples } from './samples.ts';

/** What of a scope says which kind of token it is. */
const kindsByScope: readonly [string, TokenKind[]][] = [
  ['comment.line.documentation', ['doc']],
  ['comment.line', ['comment']],
  ['string', ['string']],
  ['constant.other.date', ['date']],
  ['constant.numeric', ['number']],
  ['keyword.other.unit', ['unit']],
  ['storage.type', ['kind']],
  ['entity.name', ['declared']],
  ['variable.other.property', ['property', 'reference']],
  ['variable.other.member', ['property']],
  ['variable.other', ['reference', 'declared', 'function', 'kind']],
  ['support.function', ['function']],
  ['keyword.operator', ['operator']],
  ['punctuation', ['punctuation']],
  ['keyword', ['keyword']],
];

const rules = colourGrammar().patterns.map(rule => ({ rule, pattern: compile(rule) }));

/** Oniguruma writes a code point as \x{a0}, JavaScript as \u{a0}; the rest of what the rules use is the same. */
function compile({ match }: ColourRule): RegExp {
  return new RegExp(match.replaceAll('\\x{', '\\u{').replaceAll(/\\([-/])/g, '$1'), 'dgu');
}

interface Coloured {
  readonly start: number;
  readonly end: number;
  readonly scope: string;
}

/** As editors do it: of the rules the one that matches first, then on from its end. */
function colourLine(line: string, offset: number): Coloured[] {
  const found: Coloured[] = [];
  let at = 0;
  while (at < line.length) {
    let best: { rule: ColourRule; match: RegExpExecArray } | undefined;
    for (const { rule, pattern } of rules) {
      pattern.lastIndex = at;
      const match = pattern.exec(line);
      if (match !== null && match[0] !== '' && (best === undefined || match.index < best.match.index))
        best = { rule, match };
    }
    if (best === undefined) break;
    const { rule, match } = best;
    if (rule.name !== undefined) {
      found.push({ start: offset + match.index, end: offset + match.index + match[0].length, scope: rule.name });
    }
    for (const [group, { name }] of Object.entries(rule.captures ?? {})) {
      const span = match.indices?.[Number(group)];
      if (span !== undefined) found.push({ start: offset + span[0], end: offset + span[1], scope: name });
    }
    at = match.index + match[0].length;
  }
  return found;
}

function colour(text: string): Coloured[] {
  let offset = 0;
  return text.split('\n').flatMap(line => {
    const found = colourLine(line, offset);
    offset += line.length + 1;
    return found;
  });
}

describe('the colouring grammar', () => {
  for (const [name, text] of Object.entries(samples)) {
    it(`sees in the sample ${name} what the lexer sees`, () => {
      const coloured = colour(text);
      const wrong = tokenize(text).filter(token => {
        const around = coloured.find(({ start, end }) => start <= token.start && token.end <= end);
        const allowed = kindsByScope.find(([scope]) => around?.scope.startsWith(scope))?.[1] ?? [];
        const isPathDot = around?.scope.startsWith('variable.other.property') && token.kind === 'punctuation';
        return !allowed.includes(token.kind) && !isPathDot;
      });
      expect(wrong.map(({ start, end, kind }) => `${kind}: ${text.slice(start, end)}`)).toEqual([]);
    });
  }

  it('knows every keyword', () => {
    const plain = KEYWORDS.filter(word => {
      const scope = colour(`x = ${word}`).at(-1)?.scope ?? '';
      return !scope.startsWith('keyword') && !scope.startsWith('storage');
    });
    expect(plain).toEqual([]);
  });

  it('is plain data', () => {
    const grammar = colourGrammar();
    expect(JSON.parse(JSON.stringify(grammar))).toEqual(grammar);
  });
});
