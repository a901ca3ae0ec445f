// Folding: what folds, from which line to which.
import { expect, test } from 'vitest';
import { parse } from '../../../grammar/parse.ts';
import { folding } from '../../../server/features/folding.ts';

function folds(text: string): readonly string[] {
  const line = (offset: number) => text.slice(0, offset).split('\n').length;
  return folding(parse(text)).map(({ start, end, kind }) => `${kind} ${line(start)} to ${line(end)}`);
}

test('a block folds to the line before its brace', () => {
  expect(folds('grid MAIN {\n  voltage = 400 V\n  frequency = 50 Hz\n}\n')).toEqual(['block 1 to 3']);
});

test('a block on one line does not fold', () => {
  expect(folds('grid MAIN { voltage = 400 V }\n')).toEqual([]);
});

test('rows of a catalogue and curves fold inside of their block', () => {
  expect(folds('catalogue converter L {\n  a {\n    ac_current = 4 A\n  }\n}\n')).toEqual([
    'block 1 to 4',
    'block 2 to 3',
  ]);
  expect(folds('part battery B {\n  resistance = curve temperature {\n    0 °C 1 Ω\n    9 °C 2 Ω\n  }\n}\n')).toEqual([
    'block 1 to 5',
    'block 2 to 4',
  ]);
});

test('comments that stand together, and the uses', () => {
  expect(folds('# one\n# two\n\nuse "a.plant"\nuse "b.plant" as b\n\nlet a = 3 V\n')).toEqual([
    'comment 1 to 2',
    'imports 4 to 5',
  ]);
});

test('an unfinished block folds to its last line', () => {
  expect(folds('grid MAIN {\n  voltage = 400 V\n')).toEqual(['block 1 to 2']);
});
