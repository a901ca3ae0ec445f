// Formatting while typing: what stands above the cursor, what was not answered before, and nobody else's lines.
import { describe, expect, test } from 'vitest';
import { parse } from '../../../grammar/parse.ts';
import { formatText } from '../../../grammar/print.ts';
import type { OffsetEdit } from '../../../server/features/formatting.ts';
import { onTypeFormatting } from '../../../server/features/on-type-formatting.ts';
import { readMarked } from '../../kit/marked.ts';

function apply(text: string, edits: readonly OffsetEdit[]): string {
  return edits
    .toSorted((a, b) => b.start - a.start)
    .reduce((before, { start, end, text: inserted }) => before.slice(0, start) + inserted + before.slice(end), text);
}

/** What becomes of a text behind a character typed at the mark; `opened` is the file as it was when it was opened. */
function typed(marked: string, character: string, opened?: string): string {
  const { text, offset } = readMarked(marked);
  const old = opened?.split('\n').map(line => line.trimEnd());
  const isNew = old && ((line: string) => !old.includes(line));
  return apply(text, onTypeFormatting(parse(text), offset, character, isNew));
}

describe('the declaration in which the author types', () => {
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

describe('a declaration that cannot be read as a whole', () => {
  test('has a brace too many behind the cursor, which the editor had put there before the author typed his own', () => {
    const block = 'grid   MAIN {\nvoltage=400 V\n';
    expect(typed(`${block}‸\n}\n}\n`, '\n')).toBe('grid MAIN {\n  voltage = 400 V\n\n}\n}\n');
    expect(typed(`${block}}‸\n}\n`, '}')).toBe('grid MAIN {\n  voltage = 400 V\n}\n}\n');
  });

  test('has no closing brace yet, in an editor that puts in none', () => {
    expect(typed('grid   MAIN {\nvoltage=400 V\n‸', '\n')).toBe('grid MAIN {\n  voltage = 400 V\n');
    expect(typed('part battery   B {\nresistance=curve temperature {\n0 °C 1 Ω\n‸', '\n')).toBe(
      'part battery B {\n  resistance = curve temperature {\n    0 °C  1 Ω\n',
    );
  });

  test('has its mistake below the cursor', () => {
    expect(typed('grid   MAIN {\nvoltage=400 V\n‸\nfrequency=50 Hz 60 Hz 70 Hz\n}\n', '\n')).toBe(
      'grid MAIN {\n  voltage = 400 V\n\nfrequency=50 Hz 60 Hz 70 Hz\n}\n',
    );
  });

  test('has its mistake above: nothing', () => {
    const broken = 'grid   MAIN {\nfrequency=50 Hz 60 Hz 70 Hz\nvoltage=400 V\n‸\n}\n';
    expect(typed(broken, '\n')).toBe(broken.replace('‸', ''));
  });
});

describe('declarations above, for which every answer came too late', () => {
  const opened = 'let  old=1 V\n';
  const above = 'grid   MAIN {\nvoltage=400 V\n}\n\nlet  a=3 V\n';
  const tidy = 'grid MAIN {\n  voltage = 400 V\n}\n\nlet a = 3 V\n';

  test('what the author has written since the file was opened is made up for', () => {
    expect(typed(`${opened}${above}\n‸`, '\n', opened)).toBe(`${opened}${tidy}\n`);
    expect(typed(`${opened}${above}grid   B {\n  x_over_r=5\n  ‸\n}\n`, '\n', opened)).toBe(
      `${opened}${tidy}grid B {\n  x_over_r = 5\n  \n}\n`,
    );
    expect(typed(`${opened}${above}grid   B { x_over_r=5 }‸`, '}', opened)).toBe(
      `${opened}${tidy}grid B { x_over_r = 5 }`,
    );
  });

  test('old lines stay as they were, beside new ones too', () => {
    const old = 'grid   MAIN {\nvoltage=400 V\n}\n';
    const now = 'grid   MAIN {\nvoltage=400 V\nx_over_r=5\n}\nlet a = 3 V\n‸';
    expect(typed(now, '\n', old)).toBe('grid   MAIN {\nvoltage=400 V\n  x_over_r = 5\n}\nlet a = 3 V\n');
  });

  test('not beyond a declaration in which nothing was written', () => {
    const old = 'let b = 4 V\n';
    const now = `let  a=3 V\n${old}let  c=5 V\n‸`;
    expect(typed(now, '\n', old)).toBe(`let  a=3 V\n${old}let c = 5 V\n`);
  });

  test('nothing below the cursor', () => {
    expect(typed('let  a=3 V\n‸\nlet  b=4 V\n', '\n', '')).toBe('let a = 3 V\n\nlet  b=4 V\n');
  });

  test('one with a mistake stays as it is and stops nobody', () => {
    const now = 'let  a=3 V\nlet  b=4 V 5 V 6 V\nlet  c=5 V\n‸';
    expect(typed(now, '\n', '')).toBe('let a = 3 V\nlet  b=4 V 5 V 6 V\nlet c = 5 V\n');
  });
});

test('at any cursor: the cursor’s line and what is below it stay, and what is done once is done', () => {
  const text =
    'let  a=3 V\ngrid   MAIN {\nvoltage=400 V # nominal\n   frequency  =50 Hz\n}\nduty d {discharge=1 kW for 9 min}\n';
  for (let offset = 0; offset <= text.length; offset++) {
    const now = `${text.slice(0, offset)}\n${text.slice(offset)}`;
    const edits = onTypeFormatting(parse(now), offset + 1, '\n', () => true);
    expect(edits.every(({ end }) => end <= offset + 1)).toBe(true);
    const once = apply(now, edits);
    const moved = offset + 1 + once.length - now.length;
    expect(once.slice(moved)).toBe(text.slice(offset));
    expect(
      apply(
        once,
        onTypeFormatting(parse(once), moved, '\n', () => true),
      ),
    ).toBe(once);
    expect(once.replace(/\s/g, '')).toBe(text.replace(/\s/g, ''));
  }
});
