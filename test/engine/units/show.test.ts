// How values are printed: the unit that suits, the digits that count, and text that is read back as the same value.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Dimension,
  dimensions as d,
  divide,
  isMoney,
  moneyOf,
  multiply,
} from '../../../engine/units/dimension.ts';
import { printUnitsOf } from '../../../engine/units/preferred.ts';
import { readUnit, toSI, type Unit } from '../../../engine/units/read.ts';
import { show, showDifference, showNumber } from '../../../engine/units/show.ts';

const euro = moneyOf('EUR');

describe('a unit that suits', () => {
  test.each<[number, Dimension, string]>([
    [421.3, d.voltage, '421.3 V'],
    [1500, d.voltage, '1500 V'],
    [20e3, d.voltage, '20 kV'],
    [754, d.current, '754 A'],
    [14_520, d.current, '14.52 kA'],
    [0.06, d.resistance, '60 mΩ'],
    [1.5, d.resistance, '1.5 Ω'],
    [1e-4, d.inductance, '100 µH'],
    [3e-4, d.capacitance, '300 µF'],
    [400e3, d.active_power, '400 kW'],
    [800, d.active_power, '800 W'],
    [14e6, d.apparent_power, '14 MVA'],
    [35e3, d.reactive_power, '35 kvar'],
    [35e3, d.power, '35000 V*A'],
    [7.2e8, d.energy, '200 kWh'],
    [500, d.energy, '500 J'],
    [40e3, d.energy, '40 kJ'],
    [1.8e6, d.energy, '0.5 kWh'],
    [280 * 3600, d.charge, '280 Ah'],
    [0.25, d.time, '250 ms'],
    [90, d.time, '90 s'],
    [45 * 60, d.time, '45 min'],
    [73 * 60, d.time, '73 min'],
    [8 * 3600, d.time, '8 h'],
    [50, d.frequency, '50 Hz'],
    [4000, d.frequency, '4 kHz'],
    [0.95, d.ratio, '95 %'],
    [0.94217, d.ratio, '94.22 %'],
    [1.2, d.ratio, '120 %'],
    [5, d.count, '5'],
    [298.15, d.temperature, '25 °C'],
    [253.15, d.temperature, '-20 °C'],
    [15, d.temperature_difference, '15 K'],
    [240e-6, d.area, '240 mm²'],
    [12, d.area, '12 m²'],
    [0.035, d.length, '35 mm'],
    [1920, d.length, '1920 m'],
    [0.000124, d.resistance_per_length, '0.124 Ω/km'],
    [7.5e-5, d.resistance_per_length, '0.075 Ω/km'],
    [0.0039, d.temperature_coefficient, '0.39 %/K'],
    [120_000, d.let_through, '120000 A²*s'],
    [2.5e6, d.let_through, '2.5 kA²*s'],
    [1.72e-8, d.resistivity, '0.0172 Ω*mm²/m'],
    [Math.PI / 6, d.angle, '30 °'],
    [2, multiply(d.voltage, d.length), '2 kg*m³/A/s³'],
  ])('%d of %o', (value, dimension, wanted) => expect(show(value, dimension)).toBe(wanted));

  test('a value that rounds up to the next unit is written in it', () => {
    expect(show(999.97, d.active_power)).toBe('1 kW');
    expect(show(999.94, d.active_power)).toBe('999.9 W');
    expect(show(-999_970, d.active_power)).toBe('-1 MW');
  });

  test('nothing at all is written in the usual unit', () => {
    expect(show(0, d.active_power)).toBe('0 kW');
    expect(show(-0, d.ratio)).toBe('0 %');
    expect(show(0, d.area)).toBe('0 mm²');
    expect(show(0, d.temperature_difference)).toBe('0 K');
  });
});

describe('money', () => {
  test.each([
    [31_000, euro, '31000 EUR'],
    [42_517.6, euro, '42518 EUR'],
    [12.5, euro, '12.50 EUR'],
    [-0.001, euro, '0 EUR'],
    [1_234_567, euro, '1234567 EUR'],
    [0.3 / 3.6e6, divide(euro, d.energy), '0.3 EUR/kWh'],
    [0.08, divide(euro, d.active_power), '80 EUR/kW'],
    [31_000, d.money, '31000'],
  ])('%d of %o', (value, dimension, wanted) => expect(show(value, dimension)).toBe(wanted));
});

describe('the unit of the author', () => {
  const unit = (text: string): Unit => {
    const reading = readUnit(text);
    if (!reading.ok) throw new Error(text);
    return reading.unit;
  };

  test('is kept, whatever the magnitude', () => {
    expect(show(400e3, d.active_power, { unit: unit('W') })).toBe('400000 W');
    expect(show(36e6, d.energy, { unit: unit('MJ') })).toBe('36 MJ');
    expect(show(0.06, d.resistance, { unit: unit('Ω') })).toBe('0.06 Ω');
    expect(show(0.95, d.ratio, { unit: unit('') })).toBe('0.95');
    expect(show(1500, euro, { unit: unit('kEUR') })).toBe('1.5 kEUR');
  });

  test('counts for nothing if it measures something else', () => {
    expect(show(400e3, d.active_power, { unit: unit('kVA') })).toBe('400 kW');
  });
});

describe('what is no number', () => {
  test('is said in words', () => {
    expect(show(Number.NaN, d.voltage)).toBe('unknown');
    expect(show(undefined, d.voltage)).toBe('unknown');
    expect(show(Number.POSITIVE_INFINITY, d.time)).toBe('unlimited');
    expect(show(Number.NEGATIVE_INFINITY, d.time)).toBe('unlimited');
    expect(showDifference(undefined)).toBe('unknown');
  });
});

describe('digits', () => {
  test.each([
    [Math.PI, 3, '3.14'],
    [Math.PI, 6, '3.14159'],
    [9.9996, 4, '10'],
    [12_345.6, 3, '12346'],
    [123_456_789, 4, '1.235e8'],
    [0.000012345, 4, '1.234e-5'],
    [0.0002, 4, '0.0002'],
    [-0.00004, 1, '-4e-5'],
    [100, 4, '100'],
    [2, Number.NaN, '2'],
    [2, -3, '2'],
  ])('%d with %d digits', (value, digits, wanted) => expect(showNumber(value, digits)).toBe(wanted));

  test('a temperature difference is written in kelvin', () => expect(showDifference(12.54)).toBe('12.54 K'));
});

describe('laws', () => {
  const named = Object.values(d).filter(each => each !== d.money);
  const anyDimension = fc.constantFrom<Dimension>(
    ...named,
    euro,
    divide(euro, d.energy),
    divide(euro, d.apparent_power),
    divide(moneyOf('CHF'), d.thermal_resistance),
    multiply(d.voltage, d.length),
    multiply(d.apparent_power, d.length),
    divide(d.reactive_power, d.temperature_difference),
  );
  const magnitudes = fc
    .tuple(fc.double({ min: 0.1, max: 1, noNaN: true }), fc.integer({ min: -14, max: 14 }), fc.constantFrom(1, -1, 0))
    .map(([mantissa, exponent, sign]) => sign * mantissa * 10 ** exponent);

  test('what is printed is read back as the same value, as far as its digits go', () => {
    fc.assert(
      fc.property(magnitudes, anyDimension, fc.integer({ min: 3, max: 12 }), (value, dimension, digits) => {
        const text = show(value, dimension, { digits });
        const [number = '', symbol = ''] = text.split(' ');
        const reading = readUnit(symbol);
        if (!reading.ok) throw new Error(`"${text}" is not read back`);
        if (symbol !== '') expect(reading.unit.dimension).toBe(dimension);
        const back = toSI(Number(number), reading.unit);
        // Money is rounded to cents, temperatures count their digits from 0 °C, and so does the rounding of doubles.
        const cents = isMoney(dimension)
          ? Math.max(0.005, Math.abs(value) >= 100 ? 0.5 : 0, Math.abs(value) * 5e-4)
          : 0;
        const scale = dimension === d.temperature ? 1e-12 * (Math.abs(value) + 300) : 0;
        const shift = dimension === d.temperature ? 273.15 : 0;
        const rounding = 0.501 * 10 ** (1 - digits) * Math.abs(value - shift);
        expect(Math.abs(back - value)).toBeLessThanOrEqual(rounding + cents + scale);
      }),
      { numRuns: 5000 },
    );
  });

  test('never throws, and the text has one number and at most one unit', () => {
    fc.assert(
      fc.property(fc.double(), anyDimension, fc.option(fc.double(), { nil: undefined }), (value, dimension, digits) => {
        const text = show(value, dimension, digits === undefined ? {} : { digits });
        expect(text).toMatch(/^(unknown|unlimited|-?\d+(\.\d+)?(e-?\d+)?( \S+)?)$/u);
      }),
      { numRuns: 2000 },
    );
  });

  test('units for output rise', () => {
    for (const dimension of named) {
      const from = printUnitsOf(dimension).map(each => each.from);
      expect(from.length).toBeGreaterThan(0);
      expect(from).toEqual([...from].sort((a, b) => a - b));
      for (const { unit } of printUnitsOf(dimension)) {
        if (dimension !== d.count) expect([unit.text, unit.dimension]).toEqual([unit.text, dimension]);
      }
    }
  });
});
