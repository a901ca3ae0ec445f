// Formatting of ranges: only what was asked for, and towards the one layout.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { analyze } from '../../../engine/analyze.ts';
import { parse } from '../../../grammar/parse.ts';
import { formatText } from '../../../grammar/print.ts';
import { formatting, type OffsetEdit, rangeFormatting } from '../../../server/features/formatting.ts';
import { snapshotOf } from '../../kit/feature.ts';
import { starter } from '../../kit/starter.ts';

function apply(text: string, edits: readonly OffsetEdit[]): string {
  return edits
    .toSorted((a, b) => b.start - a.start)
    .reduce((before, { start, end, text: inserted }) => before.slice(0, start) + inserted + before.slice(end), text);
}

describe('a range', () => {
  const untidy = 'let  a=3 V\ngrid   MAIN {\nvoltage=400 V\n   frequency  =50 Hz\n}\nlet  b=4 V\n';

  test('the lines that it touches, and no others', () => {
    const at = untidy.indexOf('voltage');
    expect(apply(untidy, rangeFormatting(parse(untidy), at, at + 3))).toBe(
      untidy.replace('voltage=400 V', '  voltage = 400 V'),
    );
  });

  test('all of it is the same as formatting the file', () => {
    expect(apply(untidy, rangeFormatting(parse(untidy), 0, untidy.length))).toBe(formatText(untidy));
  });

  test('what has a mistake stays as it is', () => {
    const broken = 'grid   MAIN {\nvoltage=400 V 500 V 600 V\n}\n';
    expect(rangeFormatting(parse(broken), 0, broken.length)).toEqual([]);
  });
});

test('twice is once, and the plant stays the same plant', () => {
  const files = starter('first-draft.plant');
  const text = files.get('first-draft.plant')!;
  const read = (plant: string) => {
    const { values, findings } = analyze(
      'first-draft.plant',
      snapshotOf(new Map([...files, ['first-draft.plant', plant]])),
      {
        today: '2026-11-25',
      },
    );
    return [values.names.map(name => values.worst(name)?.value), findings.map(({ code, message }) => [code, message])];
  };
  const before = read(text);
  const blanks = [...text.matchAll(/(?<=[=,{]) | (?=[=,}])/g)].map(({ index }) => index);
  fc.assert(
    fc.property(fc.subarray(blanks), fc.constantFrom('', '  ', '   '), (places, blank) => {
      const untidy = apply(
        text,
        places.map(at => ({ start: at, end: at + 1, text: blank })),
      );
      const once = apply(untidy, formatting(untidy));
      expect(formatting(once)).toEqual([]);
      expect(once).toBe(formatText(untidy));
      expect(read(once)).toEqual(before);
    }),
    { numRuns: 12, seed: 5 },
  );
});
