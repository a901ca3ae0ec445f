// Formatting of ranges and while typing: only what was asked for, and towards the one layout.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { analyze } from '../../../engine/analyze.ts';
import { parse } from '../../../grammar/parse.ts';
import { formatText } from '../../../grammar/print.ts';
import { formatting, type OffsetEdit, onTypeFormatting, rangeFormatting } from '../../../server/features/formatting.ts';
import { snapshotOf } from '../../kit/feature.ts';
import { readMarked } from '../../kit/marked.ts';
import { starter } from '../../kit/starter.ts';

function apply(text: string, edits: readonly OffsetEdit[]): string {
  return edits
    .toSorted((a, b) => b.start - a.start)
    .reduce((before, { start, end, text: inserted }) => before.slice(0, start) + inserted + before.slice(end), text);
}

function typed(marked: string, character: string): string {
  const { text, offset } = readMarked(marked);
  return apply(text, onTypeFormatting(parse(text), offset, character));
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

describe('while typing', () => {
  test('the closing brace formats its declaration', () => {
    expect(typed('let  a=3 V\ngrid MAIN {\nvoltage=400 V\n}‸\nlet  b=4 V\n', '}')).toBe(
      'let  a=3 V\ngrid MAIN {\n  voltage = 400 V\n}\nlet  b=4 V\n',
    );
  });

  test('the brace of a curve inside does nothing yet', () => {
    const text = 'part battery B {\nresistance=curve temperature { 0 °C 1 Ω, 9 °C 2 Ω }‸\nstrings=2\n}\n';
    expect(typed(text, '}')).toBe(text.replace('‸', ''));
  });

  test('a line end formats the line that was left, and leaves the cursor’s alone', () => {
    expect(typed('grid MAIN {\n  voltage=400 V\n  ‸\n  frequency=50 Hz\n}\n', '\n')).toBe(
      'grid MAIN {\n  voltage = 400 V\n  \n  frequency=50 Hz\n}\n',
    );
  });

  test('a line end makes up for lines above it whose answer came too late, and leaves other declarations alone', () => {
    const before = 'let  a=3 V\ngrid   MAIN {\nvoltage=400 V\nfrequency  =50 Hz\n  ‸\nx_over_r=5\n}\nlet  b=4 V\n';
    expect(typed(before, '\n')).toBe(
      'let  a=3 V\ngrid MAIN {\n  voltage = 400 V\n  frequency = 50 Hz\n  \nx_over_r=5\n}\nlet  b=4 V\n',
    );
  });

  test('a line that could not be understood is made up for when it can', () => {
    const half = 'grid   MAIN {\nvoltage=400 V 5\nfrequency  =50 Hz\n  ‸\n}\n';
    expect(typed(half, '\n')).toBe(half.replace('‸', ''));
    expect(typed(half.replace(' 5', ''), '\n')).toBe('grid MAIN {\n  voltage = 400 V\n  frequency = 50 Hz\n  \n}\n');
  });

  test('behind the end of a declaration all of it', () => {
    expect(typed('grid   MAIN {\nvoltage=400 V\n}\n‸\nlet  b=4 V\n', '\n')).toBe(
      'grid MAIN {\n  voltage = 400 V\n}\n\nlet  b=4 V\n',
    );
  });

  test('a curve over several lines', () => {
    const curve = 'part battery B {\nresistance=curve temperature {\n0 °C   1 Ω\n9 °C  2 Ω\n‸\n}\n}\n';
    const whole = formatText(curve.replace('‸', ''));
    expect(typed(curve, '\n').split('\n').slice(0, 4)).toEqual(whole.split('\n').slice(0, 4));
  });

  test('also behind a declaration on one line, and in a file with line ends of two characters', () => {
    expect(typed('let a=3 V\n‸', '\n')).toBe('let a = 3 V\n');
    expect(typed('let a=3 V\r\n‸', '\n')).toBe('let a = 3 V\r\n');
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
