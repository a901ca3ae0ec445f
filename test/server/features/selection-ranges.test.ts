// Selection ranges: from the word outwards, each a true part of the next.
import { expect, test } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { parse } from '../../../grammar/parse.ts';
import { selectionRanges } from '../../../server/features/selection-ranges.ts';
import { readMarked } from '../../kit/marked.ts';

function ranges(marked: string): readonly string[] {
  const { text, offset } = readMarked(marked);
  return selectionRanges(parse(text), offset).map(({ start, end }) => text.slice(start, end));
}

test('word, value, property, block, declaration, file', () => {
  expect(ranges('let a = 3 V\n\ngrid MAIN { voltage = 400 V ± 1‸0 % from "x" }\n')).toEqual([
    '10',
    '10 %',
    '400 V ± 10 %',
    'voltage = 400 V ± 10 % from "x"',
    'grid MAIN { voltage = 400 V ± 10 % from "x" }',
    'let a = 3 V\n\ngrid MAIN { voltage = 400 V ± 10 % from "x" }\n',
  ]);
});

test('part of a path', () => {
  expect(ranges('require T1.load‸ing <= 95 %\n').slice(0, 3)).toEqual(['loading', 'T1.loading', 'T1.loading <= 95 %']);
});

test('the documentation belongs to the declaration', () => {
  expect(ranges('## Net.\ngrid MA‸IN {}\n')).toEqual([
    'MAIN',
    'grid MAIN {}',
    '## Net.\ngrid MAIN {}',
    '## Net.\ngrid MAIN {}\n',
  ]);
});

test('in an empty file there is the file', () => {
  expect(ranges('‸')).toEqual(['']);
});

test('anywhere in a plant: they grow, and hold the cursor', () => {
  const tree = parse(soundExample);
  for (let offset = 0; offset <= soundExample.length; offset += 1) {
    const spans = selectionRanges(tree, offset);
    expect(spans.at(-1)).toEqual({ start: 0, end: soundExample.length });
    for (const [index, span] of spans.entries()) {
      expect(span.start <= offset && offset <= span.end).toBe(true);
      const inner = spans[index - 1];
      if (inner === undefined) continue;
      expect(span.start <= inner.start && inner.end <= span.end).toBe(true);
      expect(span.end - span.start).toBeGreaterThan(inner.end - inner.start);
    }
  }
});
