// Lets: order never matters, circles are told once, and a name that is wrong gets the nearest that is right.
import { describe, expect, it } from 'vitest';
import { messagesOf, mistakesOf, mistakesWith } from '../../kit/mistakes.ts';
import type { Edit } from '../../kit/plants.ts';

const rated = (name: string): Edit => ['rated_power = 500 kVA', `rated_power = ${name}`];
const first = (lines: string): Edit => ['plant MountainStation', `${lines}\n\nplant MountainStation`];
const last = (lines: string): Edit => ['require T1.loading', `${lines}\n\nrequire T1.loading`];

describe('order never matters', () => {
  it.each([
    ['before', first('let size = 500 kVA')],
    ['after', last('let size = 500 kVA')],
    ['through others, backwards', last('let size = 2 * half\nlet half = 250 kVA')],
  ])('%s', (_, edit) => expect(mistakesOf(rated('size'), edit)).toEqual([]));
});

describe('a circle', () => {
  it.each([
    ['of one', 'let a = a', 'a'],
    ['of two', 'let a = b\nlet b = a', 'a'],
    ['of three', 'let a = b\nlet b = c\nlet c = a', 'a'],
    ['with others hanging on it', 'let a = b\nlet b = a\nlet c = a + b\nlet d = 2 * c', 'a'],
    ['through a fact', 'let a = T1.secondary_voltage', 'a'],
  ])('%s is told once', (_, lines, name) => {
    const edits: Edit[] = [last(lines)];
    if (lines.includes('T1')) edits.push(['secondary_voltage = 360 V', 'secondary_voltage = a']);
    expect(mistakesOf(...edits)).toEqual([`cycle at "${name}"`]);
  });
});

describe('a name', () => {
  it('that is nearly right gets the right one', () => {
    const edits: Edit[] = [rated('siez'), last('let size = 500 kVA')];
    expect(mistakesOf(...edits)).toEqual(['unknown_name at "siez"']);
    expect(messagesOf(...edits)).toEqual(['Nothing here is named `siez`: did you mean `size`?']);
  });

  it('that is far off gets none', () =>
    expect(messagesOf(rated('wobble'))).toEqual(['Nothing here is named `wobble`.']));

  it('is taken once', () => {
    expect(mistakesWith('let size = 5 V\nlet size = 6 V')).toEqual(['duplicate at "size"']);
    expect(mistakesWith('let T1 = 5 V')).toEqual(['duplicate at "T1"']);
  });

  it('is no word of the language', () => expect(mistakesWith('let grid = 5 V')).toEqual(['syntax at "grid"']));
});

describe('a let that is not finished', () => {
  it('is one mistake, whoever reads it', () => {
    expect(mistakesOf(rated('size'), last('let size ='))).toEqual(['syntax at "="']);
    expect(mistakesOf(rated('size'), last('let = 500 kVA'))).toEqual(['syntax at "let"']);
    expect(mistakesOf(rated('size'), last('let size = 500 kVB'))).toEqual(['unknown_unit at "kVB"']);
  });
});

it('is a text where a number is wanted', () => {
  expect(mistakesOf(rated('size'), last('let size = "large"'))).toEqual(['wrong_value at "size"']);
});
