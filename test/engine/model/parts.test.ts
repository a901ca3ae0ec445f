// Parts and catalogue rows: what a component takes from them, what replaces it, and what can't be a part.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { mistakesIn } from '../../kit/mistakes.ts';
import { analysed, complaints, type Edit, edited, findingsOf, textAt, worst } from '../../kit/plants.ts';

const own = '{\n  converter_inductance = 100 µH\n  capacitance = 300 µF\n  damping_resistance = 60 mΩ\n}';
const filter = (text: string): Edit => [`filter F1 ${own}`, `filter F1 ${text}`];
const mistakes = (text: string, parts: string) => mistakesIn(`${edited(soundExample, filter(text))}\n${parts}\n`);
const part = `part filter Choke ${own}`;

describe('a component made from a part', () => {
  it('takes all that the part states', () => expect(mistakes('is Choke', part)).toEqual([]));

  it('replaces what it states itself', () => {
    const reactive = (text: string) =>
      worst(analysed(`${edited(soundExample, filter(text))}\n${part}\n`), 'F1.capacitor_reactive').value;
    expect(reactive('is Choke { capacitance = 150 µF }') / reactive('is Choke')).toBeCloseTo(0.5, 2);
  });

  it('replaces the whole property, its tolerance with it', () => {
    const trafo = 'part transformer Bought { impedance = 6 % ± 10 % }';
    const text = edited(soundExample, ['transformer T1 {', 'transformer T1 is Bought {'], ['6 % ± 10 %', '5 % ± 5 %']);
    expect(mistakesIn(`${text}\n${trafo}\nrequire T1.impedance <= 5.25 %\nrequire T1.impedance >= 4.75 %\n`)).toEqual(
      [],
    );
  });

  it('may complete it, and lacks what neither states', () => {
    const half = 'part filter Half { converter_inductance = 100 µH }';
    expect(mistakes('is Half { capacitance = 300 µF }', half)).toEqual([]);
    expect(mistakes('is Half', half)).toEqual(['missing_fact at "F1"']);
  });

  it('does not take the inherited value where its own was not understood', () => {
    expect(mistakes('is Choke { capacitance = 150 µH }', part)).toEqual(['wrong_dimension at "150 µH"']);
  });

  it('goes through several parts', () => {
    const chain = `${part}\npart filter Damped is Choke { damping_resistance = 80 mΩ }`;
    expect(mistakes('is Damped', chain)).toEqual([]);
  });

  it('carries what is wrong with the part to its own `is`', () => {
    const small =
      'part converter Small { ac_current = 600 A, dc_voltage = 550 V .. 850 V, switching_frequency = 4 kHz }';
    const plant = analysed(
      `${edited(soundExample, [
        'converter K1 {\n  ac_current = 850 A\n  dc_voltage = 550 V .. 850 V\n  switching_frequency = 4 kHz\n}',
        'converter K1 is Small',
      ])}\n${small}\n`,
    );
    const [finding] = findingsOf(plant, 'converter_loading');
    expect(textAt(plant, finding!.place)).toBe('is Small');
  });
});

describe('what stands behind `is`', () => {
  const catalogue = 'catalogue filter Range {\n  small { converter_inductance = 100 µH, capacitance = 300 µF }\n}';

  it('may be the row of a catalogue', () => expect(mistakes('is Range.small', catalogue)).toEqual([]));

  it.each([
    ['a misspelt part', 'is Chok', part, 'unknown_name at "Chok"', 'did you mean `Choke`?'],
    ['a misspelt row', 'is Range.smal', catalogue, 'unknown_name at "Range.smal"', 'did you mean `Range.small`?'],
    [
      'a catalogue as a whole',
      'is Range',
      catalogue,
      'wrong_value at "Range"',
      'name one of its rows, such as `Range.small`',
    ],
    [
      'a part of another kind',
      'is Other',
      'part cable Other { length = 5 m }',
      'wrong_value at "Other"',
      'is a cable, not a filter',
    ],
    ['a component', 'is T1', '', 'wrong_value at "T1"', '`T1` is a transformer'],
    ['a let', 'is size', 'let size = 5 V', 'wrong_value at "size"', '`size` is a let'],
  ])('is not %s', (_, text, parts, expected, message) => {
    expect(mistakes(text, parts)).toEqual([expected]);
    expect(complaints(analysed(`${edited(soundExample, filter(text))}\n${parts}\n`))[0]!.message).toContain(message);
  });
});

describe('a part made from itself', () => {
  it.each([
    ['at once', 'part filter A is A'],
    ['through another', 'part filter A is B\npart filter B is A'],
    ['through two others', 'part filter A is B\npart filter B is C\npart filter C is A'],
  ])('%s is told once, used or not', (_, parts) => {
    expect(mistakes('is A', parts)).toHaveLength(1);
    expect(mistakes('is A', parts)[0]).toMatch(/^cycle at "is [ABC]"$/);
    expect(mistakes(own, parts)).toHaveLength(1);
  });
});

describe('a part or a catalogue', () => {
  it.each([
    ['of a misspelt kind', 'part fliter A { capacitance = 5 µF }', 'syntax at "fliter"'],
    ['of no kind', 'part A { capacitance = 5 µF }', 'syntax at "A"'],
    ['of a kind that has none', 'part plant A { altitude = 5 m }', 'syntax at "plant"'],
    ['with a misspelt property', 'part filter A { capacitanc = 5 µF }', 'unknown_property at "capacitanc"'],
    ['with a wrong unit that nobody uses', 'part filter A { capacitance = 5 V }', 'wrong_dimension at "5 V"'],
    ['twice', 'part filter A { capacitance = 5 µF }\npart filter A { capacitance = 6 µF }', 'duplicate at "A"'],
    [
      'with a misspelt property in a row',
      'catalogue filter C {\n  a { capacitanc = 5 µF }\n}',
      'unknown_property at "capacitanc"',
    ],
    [
      'with two rows of one name',
      'catalogue filter C {\n  a { capacitance = 5 µF }\n  a { capacitance = 6 µF }\n}',
      'duplicate at "a"',
    ],
    ['with a misspelt kind of catalogue', 'catalogue fliter C {\n  a { capacitance = 5 µF }\n}', 'syntax at "fliter"'],
  ])('%s', (_, parts, expected) => expect(mistakes(own, parts)).toEqual([expected]));
});
