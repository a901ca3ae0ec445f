// What each word and sign of a file is.

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { tokenize } from '../../grammar/tokenize.ts';
import { lex } from '../../grammar/tokens.ts';
import { HEADS, KEYWORDS, nearestHead } from '../../grammar/words.ts';
import { samples } from './samples.ts';

const show = (text: string): string =>
  tokenize(text)
    .map(({ start, end, kind }) => `${kind}:${text.slice(start, end)}`)
    .join(' ');

describe('tokens', () => {
  const cases: Record<string, string> = {
    'part battery Long is Short': 'keyword:part kind:battery declared:Long keyword:is reference:Short',
    'voltage = 400 V ± 10 %': 'property:voltage operator:= number:400 unit:V operator:± number:10 unit:%',
    'a = b.for per cell': 'property:a operator:= reference:b punctuation:. property:for keyword:per reference:cell',
    'let peak = max(1 kW, x)':
      'keyword:let declared:peak operator:= function:max punctuation:( number:1 unit:kW punctuation:, reference:x punctuation:)',
    '5 from "x" # why': 'number:5 keyword:from string:"x" comment:# why',
    'until 2027-06-30 ## doc': 'keyword:until date:2027-06-30 doc:## doc',
    '4 conductor = copper': 'number:4 property:conductor operator:= reference:copper',
    '0.95 delivering': 'number:0.95 keyword:delivering',
    '2 ohm/km * x': 'number:2 unit:ohm/km operator:* reference:x',
    '\u0000': 'stray:\u0000',
  };
  for (const [text, expected] of Object.entries(cases))
    it(JSON.stringify(text), () => expect(show(text)).toBe(expected));

  it('leave out nothing but blanks', () => {
    for (const text of Object.values(samples)) {
      const rest = tokenize(text).reduceRight((left, { start, end }) => left.slice(0, start) + left.slice(end), text);
      expect(rest.trim()).toBe('');
    }
  });
});

describe('words', () => {
  it('are each a keyword once', () => {
    expect(new Set(KEYWORDS).size).toBe(KEYWORDS.length);
  });

  it('that are misspelt are near to one head at most, and none to another head', () => {
    expect(['gird', 'Grid', 'bateries', 'converte', 'requre', 'us', 'xyz'].map(nearestHead)).toEqual([
      'grid',
      'grid',
      undefined,
      'converter',
      'require',
      undefined,
      undefined,
    ]);
    for (const head of HEADS) expect(nearestHead(head)).toBe(head);
  });
});

describe('what is usual is read as all else is', () => {
  const pieces = [
    'k',
    'W',
    'mm',
    '²',
    '³',
    '°',
    'C',
    'Ω',
    'µ',
    'µ',
    '%',
    '/',
    '·',
    '*',
    'for',
    'every',
    'at',
    '_',
    '2',
    '^2',
    'é',
    '‰',
  ];
  const glued = fc.array(fc.constantFrom(...pieces), { minLength: 1, maxLength: 5 }).map(parts => parts.join(''));
  const first = (text: string) =>
    lex(text)
      .slice(0, 2)
      .map(({ image, tokenType }) => `${tokenType.name} ${image}`);

  it('units: a parenthesis behind, which no usual unit has, changes nothing', () => {
    fc.assert(
      fc.property(glued, unit => {
        // A sign at the end belongs to no unit, whatever follows.
        expect(first(`4 ${unit})`)).toEqual(first(`4 ${unit}(`));
      }),
      { numRuns: 2000 },
    );
  });

  it('names: a letter of another alphabet behind only makes them longer', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[A-Za-z_][A-Za-z0-9_]{0,8}$/), name => {
        expect(lex(`${name} `)[0]!.image).toBe(name);
        expect(lex(`${name}ж `)[0]!.image).toBe(`${name}ж`);
      }),
    );
  });
});
