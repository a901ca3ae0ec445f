// Plants that are not finished, or not possible: each lack is a clear finding, and what can be known stays known.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { mistakesIn, mistakesOf, mistakesWith, notesIn } from '../../kit/mistakes.ts';
import { analysed, complaints, type Edit } from '../../kit/plants.ts';

const without = (declaration: RegExp): string => {
  if (!declaration.test(soundExample)) throw new Error(`${declaration} does not stand in the example`);
  return soundExample.replace(declaration, '');
};
const block = (head: string) => new RegExp(`^${head} \\{[\\s\\S]*?\\n\\}\\n`, 'm');
const known = (text: string): number => {
  const { values } = analysed(text).analysis;
  return values.names.filter(name => values.worst(name)?.value !== undefined).length;
};

describe('a plant without', () => {
  it.each([
    ['its network', block('grid MAIN'), ['unknown_name at "MAIN"']],
    ['its transformer', block('transformer T1'), ['unknown_name at "T1"', 'unknown_name at "T1.loading"']],
    ['its filter', block('filter F1'), ['unknown_name at "F1"']],
    ['its converter', block('converter K1'), ['unknown_name at "K1"']],
    ['its battery', block('battery B1'), ['unknown_name at "B1"']],
    ['its plant', block('plant MountainStation'), ['missing_fact at "MAIN"']],
    ['its house rules', block('practice HouseRules'), ['unknown_name at "HouseRules"']],
  ])('%s', (_, declaration, expected) => {
    const text = without(declaration);
    expect(mistakesIn(text)).toEqual(expected);
    expect(known(text)).toBeGreaterThan(10);
  });

  it('any duty says what stays unchecked', () => {
    const plant = analysed(without(/^duty .*\n^duty .*\n/m));
    expect(complaints(plant)).toEqual([]);
    expect(notesIn(plant, 'not_checked')).toEqual(['not_checked at "MountainStation"']);
  });

  it('anything', () => {
    expect(mistakesIn('')).toEqual([]);
    expect(mistakesIn('# nothing yet\n')).toEqual([]);
    expect(mistakesIn('plant P\n')).toEqual([]);
    expect(mistakesIn('plant P {\n}\n')).toEqual([]);
    expect(mistakesIn('plant\n')).toEqual(['syntax at "plant"']);
  });

  it('a plant at all is judged as it stands', () => {
    expect(known(without(block('plant MountainStation')))).toBe(known(soundExample));
  });

  it('a single fact lacks each, once for each component', () => {
    const empty =
      'plant P {}\ngrid G {}\ntransformer T {}\nfilter F {}\nconverter K {}\nbattery B {}\nconnect G -> T -> F -> K -> B\nduty d {}\n';
    const lacking = ['G', 'T', 'F', 'K', 'B', 'B', 'd'].map(tag => `missing_fact at "${tag}"`);
    expect(mistakesIn(empty)).toEqual(lacking);
    expect(mistakesIn(empty.replaceAll(' {}', ''))).toEqual(lacking);
  });
});

describe('a rating that is zero or negative', () => {
  it.each<[Edit, string]>([
    [['400 V ± 10 %', '0 V ± 10 %'], '0 V ± 10 %'],
    [['400 V ± 10 %', '-400 V ± 10 %'], '-400 V ± 10 %'],
    [['9 MVA .. 14 MVA', '0 MVA .. 14 MVA'], '0 MVA .. 14 MVA'],
    [['50 Hz ± 1 %', '0 Hz ± 1 %'], '0 Hz ± 1 %'],
    [['rated_power = 500 kVA', 'rated_power = 0 kVA'], '0 kVA'],
    [['rated_power = 500 kVA', 'rated_power = -500 kVA'], '-500 kVA'],
    [['secondary_voltage = 360 V', 'secondary_voltage = 0 V'], '0 V'],
    [['impedance = 6 % ± 10 %', 'impedance = 0 %'], '0 %'],
    [['load_loss = 5.8 kW', 'load_loss = -5.8 kW'], '-5.8 kW'],
    [['= 100 µH', '= 0 µH'], '0 µH'],
    [['= 300 µF', '= -300 µF'], '-300 µF'],
    [['ac_current = 850 A', 'ac_current = 0 A'], '0 A'],
    [['550 V .. 850 V', '-550 V .. 850 V'], '-550 V .. 850 V'],
    [['switching_frequency = 4 kHz', 'switching_frequency = 0 kHz'], '0 kHz'],
    [['capacity = 280 Ah', 'capacity = 0 Ah'], '0 Ah'],
    [['strings = 4', 'strings = 0'], '0'],
    [['cells_in_series = 224', 'cells_in_series = 0'], '0'],
    [['2.80 V .. 3.60 V', '0 V .. 3.60 V'], '0 V .. 3.60 V'],
    [['soc = 10 % .. 90 %', 'soc = -10 % .. 90 %'], '-10 % .. 90 %'],
    [['soc = 10 % .. 90 %', 'soc = 10 % .. 190 %'], '10 % .. 190 %'],
    [['discharge_current = 280 A', 'discharge_current = -280 A'], '-280 A'],
    [['temperature = 20 °C', 'temperature = -300 °C'], '-300 °C'],
    [['discharge = 400 kW', 'discharge = 0 kW'], '0 kW'],
  ])('%s is one finding', (edit, marked) => expect(mistakesOf(edit)).toEqual([`impossible_value at "${marked}"`]));

  it('is none where nothing is an honest value', () => {
    expect(mistakesOf(['no_load_loss = 800 W', 'no_load_loss = 0 W'])).toEqual([]);
    expect(mistakesOf(['altitude = 900 m', 'altitude = 0 m'])).toEqual([]);
  });

  it('says where the limit lies', () => {
    const [finding] = analysed(
      soundExample.replace('cells_in_series = 224', 'cells_in_series = 0'),
    ).analysis.findings.filter(({ code }) => code === 'impossible_value');
    expect(finding?.message).toBe("`cells_in_series` can't be as small as that: 0 is below 1.");
  });

  it('and half a cell is no cell', () => {
    expect(mistakesOf(['cells_in_series = 224', 'cells_in_series = 22.4'])).toEqual(['wrong_value at "22.4"']);
  });
});

describe('what stands twice', () => {
  it.each<[string, string, string]>([
    ['a tag', 'cable MAIN { length = 5 m, cross_section = 95 mm² }', 'duplicate at "MAIN"'],
    ['a tag of the same kind', 'transformer T1 { rated_power = 630 kVA }', 'duplicate at "T1"'],
    ['the plant', 'plant Other { altitude = 5 m }', 'duplicate at "plant"'],
    ['the plant by its name', 'plant MountainStation { altitude = 5 m }', 'duplicate at "MountainStation"'],
    ['house rules', 'practice HouseRules { transformer_spare = 90 % }', 'duplicate at "HouseRules"'],
    ['a duty', 'duty braking { charge = 5 kW }', 'duplicate at "braking"'],
  ])('%s: the first one counts', (_, lines, expected) => {
    expect(mistakesWith(lines)).toEqual([expected]);
    expect(known(`${soundExample}\n${lines}\n`)).toBe(known(soundExample));
  });

  it('a property: the first one counts', () => {
    const edit: Edit = ['rated_power = 500 kVA', 'rated_power = 500 kVA\n  rated_power = 5 kVA'];
    expect(mistakesOf(edit)).toEqual(['duplicate at "rated_power"']);
  });
});

describe('a name that is wrong', () => {
  it.each([
    ['a kind', 'tranformer T9 { rated_power = 5 kVA }', 'syntax at "tranformer"'],
    ['no kind', 'W1 { length = 5 m }', 'syntax at "W1"'],
    ['no name', 'cable { length = 5 m, cross_section = 95 mm² }', 'syntax at "cable"'],
    ['a property outside', 'length = 5 m', 'syntax at "length"'],
    ['garbage', '%%% !!', 'syntax at "%%%"'],
  ])('%s is one mistake, and the rest stays', (_, lines, expected) => {
    expect(mistakesWith(lines)).toEqual([expected]);
    expect(known(`${soundExample}\n${lines}\n`)).toBe(known(soundExample));
  });

  it('of a property gets the nearest, and its value is not called missing', () => {
    expect(mistakesOf(['  impedance = 6', '  impedence = 6'])).toEqual(['unknown_property at "impedence"']);
  });
});
