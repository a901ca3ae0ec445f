// Curves: crooked rows, wrong axes and units, what they are given per, and how a case scales them.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { messagesOf, mistakesOf, mistakesWith } from '../../kit/mistakes.ts';
import { analysed, type Edit, edited, valueAt, worst } from '../../kit/plants.ts';

const points = '{ 0 °C 0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }';
const resistance = (text: string): Edit => [`resistance = curve temperature ${points}`, `resistance = ${text}`];

describe('rows', () => {
  it.each<[string, Edit, string]>([
    ['with a value too many', ['15 °C 0.19 Ω', '15 °C 0.19 Ω 0.18 Ω'], 'syntax at "15 °C 0.19 Ω 0.18 Ω"'],
    ['with a value missing', ['15 °C 0.19 Ω', '15 °C'], 'syntax at "15 °C"'],
    ['not increasing', ['15 °C 0.19 Ω', '-15 °C 0.19 Ω'], 'wrong_value at "-15 °C"'],
    ['twice at one place', ['15 °C 0.19 Ω', '0 °C 0.19 Ω'], 'wrong_value at "0 °C"'],
    ['with another unit below', ['15 °C 0.19 Ω', '15 °C 0.19 V'], 'wrong_dimension at "0.19 V"'],
    ['with another unit on top', ['0 °C 0.28 Ω, 15', '0 °C 0.28 V, 15'], 'wrong_dimension at "0.28 V"'],
    ['with another unit along the axis', ['{ 0 °C 0.28', '{ 0 % 0.28'], 'wrong_dimension at "0 %"'],
    ['without a unit', ['15 °C 0.19 Ω', '15 °C 0.19'], 'wrong_dimension at "0.19"'],
  ])('%s', (_, edit, expected) => expect(mistakesOf(edit)).toEqual([expected]));

  it('are two at least', () => {
    expect(mistakesOf(resistance('curve temperature { 0 °C 0.28 Ω }'))).toEqual([
      'wrong_value at "curve temperature { 0 °C 0.28 Ω }"',
    ]);
    expect(mistakesOf(resistance('curve temperature { }'))).toEqual(['syntax at "curve"']);
  });

  it('that make an impossible value are told as one', () => {
    expect(mistakesOf(['0 °C 0.28 Ω, 15', '0 °C -0.28 Ω, 15'])).toEqual([
      'impossible_value at "curve temperature { 0 °C -0.28 Ω, 15 °C 0.19 Ω, 25 °C 0.14 Ω, 45 °C 0.12 Ω }"',
    ]);
  });
});

describe('the axis', () => {
  it.each(['current', 'temprature'])('%s is refused with those that fit', axis => {
    const edit: Edit = ['resistance = curve temperature', `resistance = curve ${axis}`];
    expect(mistakesOf(edit)).toEqual([`wrong_value at "curve ${axis} ${points}"`]);
    expect(messagesOf(edit)[0]).toContain(`runs over \`soc\` or \`temperature\`, not over \`${axis}\``);
  });

  it('wants its own unit', () => {
    expect(messagesOf(resistance('curve temperature { 0 % 0.28 Ω, 15 % 0.19 Ω }'))).toEqual([
      'The curve runs over `temperature`, a temperature; its first column gives a ratio.',
    ]);
  });

  it('is asked for where it is missing', () => {
    expect(mistakesOf(['resistance = curve temperature {', 'resistance = curve {'])).toEqual(['syntax at "curve"']);
  });

  it('may come twice, with a row of columns', () => {
    const surface =
      'curve soc, temperature {\n    columns 0 °C, 45 °C\n    10 % 0.3 Ω, 0.2 Ω\n    90 % 0.2 Ω, 0.1 Ω\n  }';
    expect(mistakesOf(resistance(surface))).toEqual([]);
    expect(mistakesOf(resistance(surface.replace('0.2 Ω, 0.1 Ω', '0.2 Ω')))).toEqual(['syntax at "90 % 0.2 Ω"']);
    expect(mistakesOf(resistance('curve soc, temperature { 10 % 0.2 Ω, 90 % 0.2 Ω }'))).toEqual(['syntax at "curve"']);
  });
});

describe('a curve where none belongs', () => {
  it('is refused with an example', () => {
    const edit: Edit = ['ac_current = 850 A', 'ac_current = curve temperature { 0 °C 850 A, 45 °C 800 A }'];
    expect(mistakesOf(edit)).toEqual(['wrong_value at "curve temperature { 0 °C 850 A, 45 °C 800 A }"']);
    expect(messagesOf(edit)[0]).toContain('such as `850 A`');
  });

  it('is refused in a comparison', () => {
    expect(mistakesWith('require B1.resistance <= 1 Ω')).toEqual(['wrong_value at "B1.resistance"']);
  });
});

describe('per cell and per string', () => {
  it('counts cells of a string', () => {
    const perCell = worst(analysed(soundExample), 'B1.rest_voltage_min').value;
    const asString = edited(
      soundExample,
      ['curve soc per cell { 0 % 2.60 V, 10 % 3.20 V,', 'curve soc per string { 0 % 582.4 V, 10 % 716.8 V,'],
      ['50 % 3.29 V, 90 % 3.34 V, 100 % 3.40 V', '50 % 736.96 V, 90 % 748.16 V, 100 % 761.6 V'],
    );
    // 224 cells of 3.20 V at 10 %.
    expect(perCell).toBeCloseTo(716.8, 6);
    expect(worst(analysed(asString), 'B1.rest_voltage_min').value).toBeCloseTo(716.8, 6);
  });

  it('is refused where a property is always of a string', () => {
    expect(mistakesOf(['discharge_current = 280 A', 'discharge_current = 280 A per cell'])).toEqual([
      'wrong_value at "cell"',
    ]);
  });

  it('is one mistake where it is misspelt, and nothing is made of the value', () => {
    expect(mistakesOf(['3.60 V per cell', '3.60 V per pack'])).toEqual(['syntax at "per"']);
  });
});

describe('the shape', () => {
  it('is read: straight, smooth, or straight between logarithmic axes', () => {
    expect(mistakesOf(['charge_current = curve temperature {', 'charge_current = curve temperature smooth {'])).toEqual(
      [],
    );
  });

  it('with logarithmic axes takes positive values only', () => {
    const edit: Edit = ['charge_current = curve temperature {', 'charge_current = curve temperature log {'];
    expect(messagesOf(edit)).toEqual(['A curve between logarithmic axes takes positive values only.']);
  });
});

describe('scaling', () => {
  const innerResistance = (worn: string): number => {
    const plant = analysed(
      edited(soundExample, ['connect MAIN', `case worn { B1.resistance = ${worn} }\nconnect MAIN`]),
    );
    return valueAt(plant, 'B1.inner_resistance', { case: 'worn', soc: 0.1 });
  };

  it('by a plain factor scales the values, not the axis', () => {
    const base = innerResistance('B1.resistance');
    expect(innerResistance('1.5 * B1.resistance')).toBeCloseTo(1.5 * base, 9);
    expect(innerResistance('B1.resistance * 150 %')).toBeCloseTo(1.5 * base, 9);
    expect(innerResistance('B1.resistance / 2')).toBeCloseTo(base / 2, 9);
  });

  it.each(['2 V * B1.resistance', 'B1.resistance + B1.resistance', '2 / B1.resistance', '(1 .. 2) * B1.resistance'])(
    'is nothing else: %s',
    expression => {
      expect(mistakesWith(`case worn { B1.resistance = ${expression} }`)).toEqual([`wrong_value at "${expression}"`]);
    },
  );

  it('can make a value impossible', () => {
    expect(mistakesWith('case worn { B1.resistance = -1 * B1.resistance }')).toEqual([
      'impossible_value at "-1 * B1.resistance"',
    ]);
    expect(mistakesWith('case worn { B1.resistance = B1.resistance / 0 }')).toEqual([
      'wrong_value at "B1.resistance / 0"',
    ]);
  });
});

it('reads the same from a let', () => {
  const edit = resistance('inner');
  expect(mistakesOf(edit, ['grid MAIN', `let inner = curve temperature ${points}\n\ngrid MAIN`])).toEqual([]);
  expect(mistakesOf(edit, ['grid MAIN', 'let inner = curve current { 0 A 0.2 Ω, 5 A 0.1 Ω }\n\ngrid MAIN'])).toEqual([
    'wrong_value at "inner"',
  ]);
});
