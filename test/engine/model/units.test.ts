// Units and dimensions of properties: each mistake is told once, where it stands, with what would be right.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { messagesOf, mistakesIn, mistakesOf } from '../../kit/mistakes.ts';
import { analysed, complaints, type Edit, edited, fixed, theFinding } from '../../kit/plants.ts';

const rating = (text: string): Edit => ['rated_power = 500 kVA', `rated_power = ${text}`];

describe('a unit that does not exist', () => {
  it('is told with the nearest that does', () => {
    expect(mistakesOf(rating('500 kVa'))).toEqual(['unknown_unit at "kVa"']);
    expect(messagesOf(rating('500 kVa'))[0]).toContain('did you mean `kVA`?');
    expect(messagesOf(['discharge = 400 kW', 'discharge = 400 KW'])[0]).toContain('did you mean `kW`?');
    expect(messagesOf(['15 °C 0.19 Ω', '15 °C 0.19 Omh'])[0]).toContain('did you mean `Ω`?');
  });

  it('is told without a guess where nothing is near', () => {
    expect(messagesOf(rating('500 furlongs'))).toEqual(['`furlongs` is no unit that this language knows.']);
  });

  it('is mended by its fix', () => {
    const plant = analysed(edited(soundExample, rating('500 kVa')));
    const mended = fixed(plant.files, theFinding(plant, 'unknown_unit').fixes[0]!);
    expect([...mended.values()]).toEqual([soundExample]);
  });

  it('is told once where it stands in one row of a curve', () => {
    expect(mistakesOf(['15 °C 0.19 Ω', '15 °C 0.19 Omh'])).toEqual(['unknown_unit at "Omh"']);
  });
});

describe('a number without its unit', () => {
  it('is told with an example that carries one', () => {
    expect(mistakesOf(rating('500'))).toEqual(['wrong_dimension at "500"']);
    expect(messagesOf(rating('500'))).toEqual([
      '`500` has no unit; `rated_power` wants an apparent power, such as `500 kVA`.',
    ]);
  });

  it('is right for counts and ratios', () => {
    expect(mistakesOf(['power_factor = 0.95', 'power_factor = 95 %'])).toEqual([]);
    expect(mistakesOf(['soc = 10 % .. 90 %', 'soc = 0.1 .. 0.9'])).toEqual([]);
  });
});

describe('a unit of another dimension', () => {
  it.each<[Edit, string, string]>([
    [
      rating('500 kW'),
      '500 kW',
      '`500 kW` is an active power; `rated_power` wants an apparent power, such as `500 kVA`.',
    ],
    [
      rating('500 kvar'),
      '500 kvar',
      '`500 kvar` is a reactive power; `rated_power` wants an apparent power, such as `500 kVA`.',
    ],
    [
      ['= 300 µF', '= 300 µH'],
      '300 µH',
      '`300 µH` is an inductance; `capacitance` wants a capacitance, such as `300 µF`.',
    ],
    [
      ['altitude = 900 m', 'altitude = 900 V'],
      '900 V',
      '`900 V` is a voltage; `altitude` wants a length, such as `1920 m`.',
    ],
    [
      ['temperature = 20 °C', 'temperature = 20 K'],
      '20 K',
      '`20 K` is a temperature difference; `temperature` wants a temperature, such as `15 °C`.',
    ],
  ])('%s', (edit, marked, message) => {
    expect(mistakesOf(edit)).toEqual([`wrong_dimension at "${marked}"`]);
    expect(messagesOf(edit)).toEqual([message]);
  });

  it('is told of the side that is wrong, in a range and in a tolerance', () => {
    expect(mistakesOf(['9 MVA .. 14 MVA', '9 MVA .. 14 MW'])).toEqual(['wrong_dimension at "9 MVA .. 14 MW"']);
    expect(mistakesOf(['9 MVA .. 14 MVA', '9 .. 14 MVA'])).toEqual(['wrong_dimension at "9 .. 14 MVA"']);
    expect(mistakesOf(['400 V ± 10 %', '400 V ± 40 A'])).toEqual(['wrong_dimension at "40 A"']);
  });

  it('is told of each clause behind a value', () => {
    expect(mistakesOf(['for 45 min', 'for 45 m'])).toEqual(['wrong_dimension at "45 m"']);
    expect(messagesOf(['for 45 min', 'for 45 m'])[0]).toContain('`for` wants a time');
    expect(mistakesOf(['every 15 min', 'every 15'])).toEqual(['wrong_dimension at "15"']);
  });
});

it('takes a decimal comma for what it means, and says so once', () => {
  const plant = analysed(edited(soundExample, ['load_loss = 5.8 kW', 'load_loss = 5,8 kW']));
  expect(complaints(plant).map(finding => finding.code)).toEqual(['decimal_comma']);
  expect([...fixed(plant.files, theFinding(plant, 'decimal_comma').fixes[0]!).values()]).toEqual([soundExample]);
});

it('refuses numbers that no computer holds', () => {
  expect(mistakesOf(rating('1e400 kVA'))).toEqual(['syntax at "1e400"']);
  expect(mistakesOf(rating('1e308 kVA'))).toEqual(['wrong_value at "1e308 kVA"']);
});

it('never converts money', () => {
  const priced = (price: string) => `part cable C { price = ${price} }\n`;
  expect(mistakesIn(priced('120 EUR'))).toEqual([]);
  expect(mistakesIn(priced('120 V'))).toEqual(['wrong_dimension at "120 V"']);
});
