// Whatever the text: no throw, spans inside the file, one mistake one problem, time linear in the length.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { layOut } from '../../grammar/layout.ts';
import { parse } from '../../grammar/parse.ts';
import { parseTokens } from '../../grammar/parser.ts';
import { formatText } from '../../grammar/print.ts';
import { Comment, Doc, LineEnd, lex } from '../../grammar/tokens.ts';
import { mutants } from './mutants.ts';
import { meaning, problemsIn, problemsOf, samples } from './samples.ts';

/** Parses and checks what must hold for any text; gives the number of problems. */
function countProblems(text: string): number {
  const tree = parse(text);
  expect(tree.chunks.map(({ chunk }) => chunk.text).join('') === text).toBe(true);
  const problems = problemsIn(tree);
  const outside = problems.filter(({ start, end }) => start < 0 || end < start || end > text.length);
  expect(outside).toEqual([]);
  return problems.length;
}

/** The text once for each of its tokens, without that token. */
function deletions(text: string): string[] {
  const tokens = lex(text).filter(
    ({ tokenType }) => tokenType !== LineEnd && tokenType !== Comment && tokenType !== Doc,
  );
  return tokens.map(({ startOffset, image }) => text.slice(0, startOffset) + text.slice(startOffset + image.length));
}

describe('one token missing', () => {
  for (const [name, text] of Object.entries(samples)) {
    it(`in the sample ${name}, gives one problem unless what is left is sound`, () => {
      const counts = deletions(text).map(countProblems);
      const damaged = counts.filter(count => count > 0);
      const single = damaged.filter(count => count === 1);
      // A number or a unit taken away often leaves a sound text that means something else: the engine's business.
      expect(damaged.length).toBeGreaterThan(counts.length / 2);
      expect(single.length / damaged.length).toBeGreaterThanOrEqual(0.95);
      expect(Math.max(...counts)).toBeLessThanOrEqual(3);
    });
  }
});

describe('half a file', () => {
  for (const [name, text] of Object.entries(samples)) {
    it(`of the sample ${name} parses at every length, with one or two problems`, () => {
      for (let length = 0; length <= text.length; length++)
        expect(countProblems(text.slice(0, length))).toBeLessThanOrEqual(2);
    });
  }
});

describe('shuffled', () => {
  it('declarations mean the same in any order', () => {
    const chunks = parse(samples.plant).chunks.map(({ chunk }) => chunk.text.replace(/\s*$/, '\n\n'));
    const sorted = (text: string): string[] =>
      parse(text)
        .chunks.map(({ chunk }) => JSON.stringify(meaning(chunk.declaration)))
        .sort();
    fc.assert(
      fc.property(fc.shuffledSubarray(chunks, { minLength: chunks.length }), order => {
        expect(problemsOf(order.join(''))).toEqual([]);
        expect(sorted(order.join(''))).toEqual(sorted(samples.plant));
      }),
      { numRuns: 20 },
    );
  });

  it('lines and words never throw', () => {
    const lines = Object.values(samples).flatMap(text => text.split('\n'));
    const words = Object.values(samples).flatMap(text => text.split(/\b/));
    const pieces = fc.oneof(
      fc.array(fc.constantFrom(...lines), { maxLength: 60 }).map(list => list.join('\n')),
      fc.array(fc.constantFrom(...words), { maxLength: 120 }).map(list => list.join('')),
      fc.string({ unit: 'binary', maxLength: 200 }),
    );
    fc.assert(
      fc.property(pieces, text => void countProblems(text)),
      { numRuns: 300 },
    );
  });
});

describe('damaged files', () => {
  const files = fc.oneof(mutants(Object.values(samples), 3), mutants(Object.values(samples), 40));

  it('have few problems for few damages, and a parser that is never stuck', () => {
    fc.assert(
      fc.property(files, text => {
        countProblems(text);
        for (const { chunk } of parse(text).chunks) {
          const { tokens } = layOut(lex(chunk.text), chunk.text);
          if (tokens.length > 0) expect(parseTokens(tokens).stuckAt).toBeUndefined();
        }
      }),
      { numRuns: 200 },
    );
  }, 60_000);

  it('parse after a slip of the pen to the same tree as from scratch', () => {
    const slips = ['', ' ', '1', '.', ',', '#', '"', '{', '}', '(', ')', '=', '\n', 'x', ' kW', '%', '±', 'from', 'é'];
    const slip = fc.tuple(fc.nat(), fc.nat(2), fc.constantFrom(...slips));
    const one = fc.constantFrom(...Object.values(samples));
    fc.assert(
      fc.property(one, fc.array(slip, { minLength: 1, maxLength: 4 }), (sample, edits) => {
        let text = sample;
        let tree = parse(text);
        for (const [place, length, put] of edits) {
          const at = place % (text.length + 1);
          text = text.slice(0, at) + put + text.slice(at + length);
          tree = parse(text, tree);
          expect(tree).toEqual(parse(text));
        }
      }),
      { numRuns: 200 },
    );
  }, 60_000);

  it('parse after an edit of a number to the same tree as from scratch', () => {
    const slips = ['', '0', '1', '27', '.', '.5', '_', 'e3', '-', '−', ' ', '%', '2026-01-01'];
    const slip = fc.tuple(fc.nat(), fc.integer({ min: -1, max: 1 }), fc.nat(2), fc.constantFrom(...slips));
    const one = fc.constantFrom(...Object.values(samples));
    fc.assert(
      fc.property(one, fc.array(slip, { minLength: 1, maxLength: 8 }), (sample, edits) => {
        let text = sample;
        let tree = parse(text);
        for (const [place, beside, length, put] of edits) {
          const digits = [...text.matchAll(/\d/g)];
          const at = Math.max(0, (digits[place % digits.length]?.index ?? 0) + beside);
          text = text.slice(0, at) + put + text.slice(at + length);
          tree = parse(text, tree);
          expect(tree).toEqual(parse(text));
        }
      }),
      { numRuns: 200 },
    );
  }, 60_000);

  it('parse after an edit to the same tree as from scratch', () => {
    fc.assert(
      fc.property(files, files, (before, after) => {
        expect(parse(after, parse(before))).toEqual(parse(after));
      }),
      { numRuns: 100 },
    );
  }, 60_000);
});

describe('monstrous files', () => {
  const many = 20_000;
  const binary = Array.from({ length: many }, (_, index) => String.fromCharCode((index * 40_503 + 7) & 0xffff)).join(
    '',
  );
  const files: Record<string, string> = {
    empty: '',
    'a byte order mark': '\ufeff',
    'NUL characters': '\0'.repeat(many),
    'lone surrogates': '\ud800'.repeat(many),
    'binary text': binary,
    'open parentheses': `let a = ${'('.repeat(100_000)}`,
    'nested parentheses': `let a = ${'('.repeat(100_000)}1${')'.repeat(100_000)}`,
    'open braces': `grid A ${'{'.repeat(100_000)}`,
    'closing braces': '}'.repeat(100_000),
    'braces by turns': `grid A {\n${'}{'.repeat(many)}`,
    'a long path': `let a = ${'a.'.repeat(100_000)}`,
    signs: `let a = ${'-'.repeat(100_000)}5`,
    'a long sum': `let a = ${'1 + '.repeat(100_000)}1`,
    'a tower of powers': `let a = ${'2^'.repeat(100_000)}2`,
    quotes: '"'.repeat(100_000),
    backslashes: `let a = "${'\\'.repeat(100_000)}`,
    'curve on curve': `let a = ${'curve '.repeat(100_000)}`,
    'parentheses without end': `grid A {\n${'  x = (\n'.repeat(many)}`,
    'a block without end': `grid A {\n${'  x = 1\n'.repeat(many)}`,
    'blanks without end': ' '.repeat(1_000_000),
    'carriage returns': 'bus A\r'.repeat(many),
    'comments in an expression': `let a = b +\n${'# c\n'.repeat(many)}c`,
    'mixed pieces': 'let x = (1 + "a\\"b" # c\n{ }, -> .. ± \u00a0 '.repeat(2_000),
  };
  for (const [what, text] of Object.entries(files)) {
    it(`of ${what} are parsed and formatted`, () => {
      countProblems(text);
      expect(typeof formatText(text)).toBe('string');
    }, 20_000);
  }

  it('give one problem for a run of characters that mean nothing', () => {
    expect(countProblems('\0\u0001\u0002')).toBe(1);
    expect(countProblems(`grid A { x = ${'\u0007'.repeat(50)} }`)).toBe(1);
  });

  it('of five megabytes come to an end, with every declaration of theirs', () => {
    const count = Math.ceil(5_000_000 / samples.plant.length);
    expect(parse(samples.plant.repeat(count)).chunks).toHaveLength(count * parse(samples.plant).chunks.length);
  }, 60_000);
});

describe('line ends', () => {
  it('may be of any kind', () => {
    const reference = JSON.stringify(parse(samples.plant).chunks.map(({ chunk }) => meaning(chunk.declaration)));
    for (const end of ['\r\n', '\r']) {
      const text = samples.plant.replaceAll('\n', end);
      expect(problemsOf(text)).toEqual([]);
      expect(JSON.stringify(parse(text).chunks.map(({ chunk }) => meaning(chunk.declaration)))).toBe(reference);
    }
    expect(problemsOf(`\ufeff${samples.plant}`)).toEqual([]);
  });
});
