// What the grammar says of a mistake: one problem, on the right characters, in the words of the language.

import { describe, expect, it } from 'vitest';
import type { SyntaxProblem } from '../../grammar/ast.ts';
import { parse } from '../../grammar/parse.ts';
import { declarationOf, meaning, problemsOf } from './samples.ts';

/** Text, the characters that are marked, and the beginning of what is said of them. */
type Case = readonly [text: string, marked: string, says: string];

const cases: Readonly<Record<string, readonly Case[]>> = {
  'a property': [
    ['grid A { voltage = }', '=', 'A property needs a value after `=`, such as `rated_power = 500 kVA`.'],
    ['grid A { voltage 400 V }', 'voltage', 'After `voltage` comes `=` and a value'],
    ['grid A { = 400 V }', '=', "`=` can't begin a property."],
    ['grid A { voltage = = 400 V }', '=', 'One `=` is enough'],
    [
      'grid A { voltage = 400 V frequency = 50 Hz }',
      'frequency',
      'A comma or a line end is missing before `frequency`.',
    ],
    ['grid A { voltage = 400 V; frequency = 50 Hz }', ';', 'A property ends with its line or a comma'],
    ['grid A { voltage = 400 V,, frequency = 50 Hz }', ',', 'There is no property before this comma.'],
    ['grid A { voltage = 400 V 10 % }', '10 %', 'Between two values an operator is missing.'],
    ['duty A { charge = peak fro 45 min }', 'fro', '`fro` does not fit behind the value.'],
    ['grid A { voltage = grid }', 'grid', "`grid` is a word of the language and can't stand for a value."],
    ['grid A { length = mm² }', '²', 'A unit needs a number before it'],
    ['grid A { voltage = 1 V "letter" }', '"letter"', 'A text behind a value needs `from` or `assumed` before it.'],
    ['grid A { voltage = 1 V from }', 'from', 'After `from` comes the source in quotes'],
    ['grid A { voltage = 1 V from 5 }', '5', 'After `from` comes a text in quotes'],
    ['grid A { voltage = 1 V per banana }', 'per', 'After `per` comes `cell` or `string`.'],
    ['duty A { charge = 1 kW for }', 'for', 'After `for` comes a value, such as `for 15 min`.'],
    ['duty A { charge = 1 kW for 1 s for 2 s }', 'for', '`for` is given twice.'],
    ['grid A { row { voltage = 1 V } }', 'row', 'A block inside a block is a row of a catalogue'],
  ],
  'a value': [
    ['let a = 5,8 kW', '5,8', 'Decimals are written with a point: `5.8`.'],
    ['let a = 31,000 EUR', '31,000', "A comma can't stand in a number. Write `31.000`"],
    ['let a = 1,000,000 W', '1,000,000', "A comma can't stand in a number. Digits are grouped with `_`: `1_000_000`."],
    ['let a = max(1,2,3)', '1,2,3', 'A comma between two digits reads as a decimal comma'],
    ['let a = .5', '.5', 'A number begins with a digit: `0.5`.'],
    ['let a = 1e999 V', '1e999', 'This number is too large.'],
    ['let a = "x', '"x', 'The closing quote `"` is missing.'],
    ['let a = “x”', '“x”', 'Texts stand between straight quotes'],
    ['let a = "c:\\dir"', '\\d', 'In a text, `\\` stands only before'],
    ['let a = 5 V +-3 V', '+-', 'Write the tolerance with blanks'],
    ['let a = 5 V ± x', 'x', 'The deviation after `±` is a plain number'],
    ['let a = 5 V ± -3 V', '-3 V', 'The deviation after `±` carries no sign'],
    ['let a = 1 .. 2 .. 3', '..', "A range or tolerance can't be part of another one."],
    ['let a = 1 ± 2 .. 3', '..', "A range or tolerance can't be part of another one."],
    ['let a = 1 < 2', '<', 'A comparison stands only in `require`.'],
    ['let a = (1 V', '(', 'This `(` has no `)`.'],
    ['let a = 1 V)', ')', 'This `)` has no `(`.'],
    ['let a = ()', '()', 'Between `(` and `)` a value is missing.'],
    ['let a = (1, 2)', ',', 'Several values with commas stand only behind the name of a function'],
    ['let a = max(1,, 2)', ',', 'A value is missing next to the comma.'],
    ['let a = 1 +', '+', 'A value is missing next to `+`.'],
    ['let a = 1 + * 2', '+', 'A value is missing next to `+`.'],
    ['let a = b.', '.', 'After `.` a name is missing.'],
    ['let a = x^y', 'y', 'An exponent is a plain number'],
    ['let a = 2^3^4', '^', 'Say with parentheses which power comes first.'],
    ['let a = 2027-06-30', '2027-06-30', 'A date stands only after `until`'],
    ['let a = pick from', 'from', 'After `pick from` come the choices in parentheses'],
    [`let a = ${'('.repeat(30)}1${')'.repeat(30)}`, '(', 'Parentheses are nested more than 20 deep.'],
    ['let a = b \u0001\u0002\u0003', '\u0001\u0002\u0003', 'There are control characters here'],
    ['let a = b §§', '§§', '`§§` means nothing here.'],
  ],
  'a curve': [
    ['fuse F { m = curve }', 'curve', 'After `curve` comes what it depends on'],
    ['fuse F { m = curve a b { 0 1 } }', 'b', 'The two axes of a curve stand with a comma between them'],
    ['fuse F { m = curve a { 0 1, 2 } }', '2', 'A row of a curve has two numbers'],
    ['fuse F { m = curve a { 0 1 2 } }', '0 1 2', 'A row of this curve has two numbers'],
    ['fuse F { m = curve a { 0 V } }', '0 V', 'A row of a curve has two numbers'],
    ['fuse F { m = curve a {\n 0 1\n x 2\n 3 4 } }', 'x', '`x` does not belong among the points of a curve.'],
    ['fuse F { m = curve a, b { 0 1 } }', 'curve', 'A curve with two axes begins with the row of its columns'],
    [
      'fuse F { m = curve a, b {\n columns 1, 2\n 0 1, 2\n 1 2\n } }',
      '1 2',
      'This row has 1 value, the row of columns has 2.',
    ],
    ['fuse F { m = curve a 0 1, 2 3 } }', 'a', 'Here `{` is missing: the points of a curve'],
    ['fuse F {\n m = curve a { 0 1\n n = 2\n}', '{', 'This `{` has no `}`: the points of the curve are not closed.'],
  ],
  'lines and brackets': [
    ['grid A\n{\n  voltage = 1 V\n}', '{', "A line can't begin with `{`"],
    ['connect A\n  -> B', '->', "A line can't begin with `->`"],
    ['grid A {\n  voltage = b\n    + 2 V\n}', '+', "A line can't begin with `+`"],
    ['grid A {\n  voltage =\n    2 V\n}', '2', "A line can't begin with `2`"],
    ['duty A {\n  charge = 1 kW\n    for 5 s\n}', 'for', "A line can't begin with `for`"],
    ['grid A {\n  voltage = 1 V\n', '{', 'This `{` has no `}`: the block is not closed.'],
    ['grid A\n  voltage = 1 V\n}', 'A', 'Here `{` is missing'],
    ['cable W length = 1 m, parallel = 2 }', 'W', 'Here `{` is missing'],
    ['grid A {\n  voltage = 1 V\n}\n}', '}', 'This `}` has no `{`.'],
    ['grid A {\n  voltage = 1 V\n}\n  frequency = 50 Hz\n}', '}', 'This `}` has no `{`.'],
    ['grid A {\n  voltage = (1 V\n  frequency = 50 Hz\n}', '(', 'This `(` has no `)`.'],
    ['grid A { voltage = 1 V from "abc, x_over_r = 2 }', '"abc, x_over_r = 2 }', 'The closing quote'],
    ['bus A {} bus B {}', 'bus', 'A declaration begins on its own line'],
  ],
  'a declaration': [
    ['gird A { voltage = 1 V }', 'gird', '`gird` begins no declaration. Did you mean `grid`?'],
    ['Grid A', 'Grid', '`Grid` begins no declaration. Did you mean `grid`?'],
    ['hello', 'hello', '`hello` begins no declaration. A declaration begins with a kind'],
    ['voltage = 1 V', 'voltage', '`voltage` stands outside any block.'],
    ['"x"', '"x"', '`"x"` does not belong here.'],
    ['grid { voltage = 1 V }', 'grid', 'A grid needs a name, such as `grid MAIN`.'],
    ['grid bus { }', 'bus', "`bus` is a word of the language and can't be a name."],
    ['grid 5x { }', '5', 'A name begins with a letter'],
    ['part Long { }', 'Long', 'A kind belongs between `part` and the name'],
    ['part plant X { }', 'plant', "A plant can't be a part"],
    ['battery B is { }', 'is', 'After `is` comes a part'],
    ['battery B is pick', 'pick', 'After `pick` comes the catalogue'],
    ['battery B Long { }', 'Long', 'Between the name and the part `Long` the word `is` is missing.'],
    ['catalogue fuse X { a = 1 A }', 'a', "`a` can't begin a row."],
    ['catalogue fuze X { }', 'fuze', '`fuze` is no kind.'],
    ['use', 'use', '`use` needs the path of a file in quotes'],
    ['use "x" as', 'as', 'After `as` comes the name'],
    ['use "x" y', 'y', 'Before the name `y` the word `as` is missing.'],
    ['let = 5', 'let', 'A `let` needs a name and a value'],
    ['let per = 5', 'per', "`per` is a word of the language and can't be a name."],
    ['connect A', 'connect', '`connect` needs at least two tags'],
    ['connect A B', 'B', 'Between `A` and `B` an arrow `->` is missing.'],
    ['connect A ->', '->', 'Next to `->` a tag is missing'],
    ['case a is', 'is', 'After `is` come the cases'],
    ['case a is b c', 'c', 'Between `b` and `c` a comma is missing.'],
    ['require', 'require', '`require` needs a comparison'],
    ['require T1.loading', 'T1.loading', '`require` needs a comparison with'],
    ['require T1.loading = 5 %', '=', 'To compare, write `<=`'],
    ['require a < b < c', '<', 'One comparison at a time'],
    ['require a < b during', 'during', 'After `during` comes the name of a duty'],
    ['accept', 'accept', '`accept` needs the code of a finding'],
    ['accept x', 'x', 'After the code comes `on`'],
    ['accept x on T1', 'T1', 'An acceptance needs a last day'],
    ['accept x on T1 until 2027-06', 'until', 'After `until` comes a day'],
    ['accept x on T1 until 2027-02-29 because "x"', '2027-02-29', 'There is no day `2027-02-29`.'],
    ['accept x on T1 until 2027-06-30', '2027-06-30', 'An acceptance needs a reason'],
    ['accept x on T1 down 5 % until 2027-06-30 because "x"', 'down', 'After `down` comes `to`'],
    ['accept x on T1 down to until 2027-06-30 because "x"', 'to', 'Up to or down to which value?'],
  ],
};

for (const [what, list] of Object.entries(cases)) {
  describe(`a mistake in ${what}`, () => {
    for (const [text, marked, says] of list) {
      it(JSON.stringify(text.slice(0, 60)), () => {
        const problems = problemsOf(text);
        expect(problems.map(problem => problem.marked)).toEqual([marked]);
        expect(problems[0]?.message.slice(0, says.length)).toBe(says);
      });
    }
  });
}

describe('the wording', () => {
  const all = Object.values(cases)
    .flat()
    .flatMap(([text]) => problemsOf(text));

  it('is made of sentences, without words of parser makers', () => {
    for (const { message } of all) {
      expect(message).toMatch(/^[A-Z`].*[.?]$/s);
      expect(message).not.toMatch(/token|pars(?:e|ing)\b|EOF|expect(?:ed|ing)\b.*found|identifier|lexer|syntax/i);
    }
  });

  it('calls the decimal comma by its own code', () => {
    expect(problemsOf('let a = 5,8 kW')[0]?.code).toBe('decimal_comma');
    expect(problemsOf('let a = (5')[0]?.code).toBe('syntax');
  });
});

describe('a broken line', () => {
  it('costs that line only', () => {
    const grid = declarationOf(
      'grid A {\n  voltage = 400 V ±\n  frequency = 50 Hz\n  = 3\n  x_over_r = (5\n  unbalance = 1 %\n}',
    );
    expect(
      grid.type === 'entity' && grid.properties.map(({ target, value }) => [target[0]?.text, value?.type]),
    ).toEqual([
      ['voltage', undefined],
      ['frequency', 'number'],
      ['x_over_r', 'group'],
      ['unbalance', 'number'],
    ]);
  });

  it('keeps the value where the mistake leaves no doubt', () => {
    const number = { type: 'number', value: 5.8, unit: { text: 'kW' } };
    expect(declarationOf('let a = 5,8 kW')).toMatchObject({ value: number });
    expect(declarationOf('let a 5.8 kW')).toMatchObject({ value: number });
    expect(declarationOf('let a = 31,000 EUR')).toMatchObject({ value: undefined });
  });

  it('of a head keeps the block', () => {
    const found = declarationOf('battery B is {\n  strings = 4\n}');
    expect(meaning(found)).toMatchObject({ base: { path: [] }, properties: [{ target: [{ text: 'strings' }] }] });
  });
});

describe('a fix', () => {
  const repaired = (text: string): string => {
    const { chunks } = parse(text);
    const [problem] = chunks.flatMap(({ chunk }): readonly SyntaxProblem[] => chunk.problems);
    const edits = problem?.fix?.edits ?? [];
    return edits.reduceRight(
      (result, { span, text: piece }) => result.slice(0, span.start) + piece + result.slice(span.end),
      text,
    );
  };
  const fixes: Record<string, string> = {
    'let a = 5,8 kW': 'let a = 5.8 kW',
    'let a = 1,000,000 W': 'let a = 1_000_000 W',
    'let a = max(1,2)': 'let a = max(1.2)',
    'let a = max(1,2,3)': 'let a = max(1, 2, 3)',
    'let a = .5': 'let a = 0.5',
    'let a = “say "x"”': 'let a = "say \\"x\\""',
    'let a = “x”': 'let a = "x"',
    'let a = "c:\\dir"': 'let a = "c:\\\\dir"',
    'let a = 5 V +-3 V': 'let a = 5 V ± 3 V',
    'let a 5 V': 'let a = 5 V',
    'gird A': 'grid A',
    'connect A B': 'connect A -> B',
    'connect A\n  -> B': 'connect A -> B',
    'grid A\n{\n}': 'grid A {\n}',
    'bus A { a = 1 b = 2 }': 'bus A { a = 1, b = 2 }',
    'bus A { a = 1; b = 2 }': 'bus A { a = 1, b = 2 }',
    'cable W length = 1 m }': 'cable W { length = 1 m }',
    'battery B Long': 'battery B is Long',
  };
  for (const [before, after] of Object.entries(fixes)) {
    it(`of ${JSON.stringify(before)}`, () => {
      expect(repaired(before)).toBe(after);
      if (before !== after) expect(problemsOf(after)).toEqual([]);
    });
  }
});
