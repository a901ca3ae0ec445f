// Arithmetic with dimensions: what it gives, and what it refuses.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Dimension, dimensions as d, moneyOf } from '../../../engine/units/dimension.ts';
import {
  abs,
  add,
  asPower,
  compare,
  divide,
  isProblem,
  max,
  min,
  multiply,
  negate,
  power,
  type Quantity,
  sqrt,
  subtract,
} from '../../../engine/units/quantity.ts';
import { readUnit, toSI } from '../../../engine/units/read.ts';

/** `400 kW` as a quantity. */
function q(text: string): Quantity {
  const [number = '', symbol = ''] = text.split(' ');
  const reading = readUnit(symbol);
  if (!reading.ok) throw new Error(text);
  return { value: toSI(Number(number), reading.unit), dimension: reading.unit.dimension, unit: reading.unit };
}

describe('plain arithmetic', () => {
  test('keeps the unit of the author where it still fits', () => {
    expect(add(q('400 kW'), q('50 kW'))).toMatchObject({
      value: 450e3,
      dimension: d.active_power,
      unit: { text: 'kW' },
    });
    expect(multiply(q('1.5'), q('60 mΩ'))).toMatchObject({ value: 0.09, unit: { text: 'mΩ' } });
    expect(divide(q('60 mΩ'), q('2'))).toMatchObject({ value: 0.03, unit: { text: 'mΩ' } });
    expect(multiply(q('400 V'), q('2 A'))).toEqual({ value: 800, dimension: d.power });
  });

  test.each([
    ['add', add(q('2 m'), q('3 mm²'))],
    ['subtract', subtract(q('2 kW'), q('3 kVA'))],
    ['compare', compare(q('2 kW'), q('3 kvar'))],
    ['min', min(q('5 EUR'), q('5 CHF'))],
    ['max', max(q('5'), q('5 s'))],
  ])('%s refuses what measures different things', (_, result) =>
    expect(result).toMatchObject({ problem: 'dimension' }),
  );

  test('a mismatch names both sides', () => {
    expect(add(q('2 kW'), q('3 kVA'))).toEqual({ problem: 'dimension', left: d.active_power, right: d.apparent_power });
  });

  test('plain numbers and ratios go together', () => {
    const count: Quantity = { value: 4, dimension: d.count };
    expect(add(count, q('50 %'))).toMatchObject({ value: 4.5, dimension: d.ratio });
    expect(add(count, count)).toMatchObject({ value: 8, dimension: d.count });
    expect(multiply(count, q('280 Ah'))).toMatchObject({ value: 4 * 280 * 3600, dimension: d.charge });
    expect(compare(count, q('4'))).toBe(0);
  });

  test('roots and powers', () => {
    expect(sqrt(multiply(q('9 mm²'), q('1')) as Quantity)).toMatchObject({ dimension: d.length });
    expect(power(q('3 A'), 2)).toMatchObject({ value: 9 });
    expect(sqrt(q('2'))).toMatchObject({ value: Math.SQRT2, dimension: d.ratio });
    expect(sqrt(q('-2'))).toEqual({ problem: 'negative_root' });
    expect(sqrt(q('400 V'))).toEqual({ problem: 'exponent' });
    expect(power(q('0 V'), -1)).toEqual({ problem: 'divide_by_zero' });
    expect(power(q('2'), Number.NaN)).toEqual({ problem: 'not_finite' });
  });

  test('no zero below the stroke, no number without end', () => {
    expect(divide(q('2 V'), q('0 A'))).toEqual({ problem: 'divide_by_zero' });
    expect(multiply(q('1e200 V'), q('1e200 V'))).toEqual({ problem: 'not_finite' });
    expect(power(q('10'), 400)).toEqual({ problem: 'not_finite' });
  });

  test('the smaller and the larger', () => {
    expect(min(q('2 kW'), q('300 W'))).toMatchObject({ value: 300, unit: { text: 'W' } });
    expect(max(q('2 kW'), q('300 W'))).toMatchObject({ value: 2000, unit: { text: 'kW' } });
    expect(compare(q('2 kW'), q('2000 W'))).toBe(0);
    expect(compare(q('20 °C'), q('25 °C'))).toBe(-1);
    expect(max(q('20 °C'), q('25 °C'))).toMatchObject({ value: 298.15 });
    expect(abs(q('-3 A'))).toMatchObject({ value: 3 });
    expect(negate(q('3 A'))).toMatchObject({ value: -3 });
  });
});

describe('points on the temperature scale', () => {
  test('two of them give a difference', () => {
    expect(subtract(q('40 °C'), q('25 °C'))).toMatchObject({ value: 15, dimension: d.temperature_difference });
  });

  test('a difference moves them, from either side', () => {
    const moved = add(q('25 °C'), q('15 K'));
    expect(moved).toMatchObject({ dimension: d.temperature, unit: { text: '°C' } });
    expect((moved as Quantity).value).toBeCloseTo(313.15, 10);
    expect(add(q('15 K'), q('25 °C'))).toEqual(moved);
    expect(subtract(q('25 °C'), q('15 K'))).toMatchObject({ dimension: d.temperature });
  });

  test.each([
    ['point + point', add(q('25 °C'), q('25 °C'))],
    ['difference − point', subtract(q('25 K'), q('25 °C'))],
    ['point × number', multiply(q('25 °C'), q('2'))],
    ['number × point', multiply(q('2'), q('25 °C'))],
    ['point / number', divide(q('25 °C'), q('2'))],
    ['point / point', divide(q('25 °C'), q('5 °C'))],
    ['−point', negate(q('25 °C'))],
    ['|point|', abs(q('-25 °C'))],
    ['point²', power(q('25 °C'), 2)],
    ['√point', sqrt(q('25 °C'))],
  ])('%s is refused', (_, result) => expect(result).toEqual({ problem: 'scale' }));

  test('with anything else they are a mismatch', () => {
    expect(add(q('25 °C'), q('3 V'))).toMatchObject({ problem: 'dimension' });
    expect(subtract(q('3 V'), q('25 °C'))).toMatchObject({ problem: 'dimension' });
    expect(compare(q('25 °C'), q('298.15 K'))).toMatchObject({ problem: 'dimension' });
  });
});

describe('which power a product of voltage and current is', () => {
  test('is said by name', () => {
    const product = multiply(q('400 V'), q('100 A')) as Quantity;
    expect(asPower(product, 'active')).toEqual({ value: 40e3, dimension: d.active_power });
    expect(asPower(product, 'apparent')).toEqual({ value: 40e3, dimension: d.apparent_power });
  });

  test('and one kind is never turned into another', () => {
    expect(asPower(q('40 kVA'), 'active')).toMatchObject({ problem: 'dimension' });
    expect(asPower(q('40 kvar'), 'reactive')).toMatchObject({ value: 40e3 });
  });
});

describe('laws', () => {
  const numbers = fc.oneof(
    fc.double({ noNaN: true, noDefaultInfinity: true }),
    fc.constantFrom(0, -0, 1e308, -1e308, 5e-324),
  );
  const anyDimension = fc.constantFrom<Dimension>(...Object.values(d), moneyOf('EUR'));
  const quantities = fc.record({ value: numbers, dimension: anyDimension });

  test('nothing that is not a finite number comes out', () => {
    fc.assert(
      fc.property(quantities, quantities, fc.double(), (a, b, n) => {
        const results = [
          add(a, b),
          subtract(a, b),
          multiply(a, b),
          divide(a, b),
          negate(a),
          abs(a),
          sqrt(a),
          power(a, n),
          min(a, b),
          max(a, b),
        ];
        for (const result of results) if (!isProblem(result)) expect(Number.isFinite(result.value)).toBe(true);
      }),
      { numRuns: 3000 },
    );
  });

  test('sums and differences of one dimension undo each other', () => {
    const moderate = fc.double({ min: -1e6, max: 1e6, noNaN: true });
    fc.assert(
      fc.property(
        moderate,
        moderate,
        anyDimension.filter(each => each.kind !== 'point'),
        (x, y, dimension) => {
          const sum = add({ value: x, dimension }, { value: y, dimension }) as Quantity;
          const back = subtract(sum, { value: y, dimension }) as Quantity;
          expect(back.dimension).toBe(dimension);
          expect(back.value).toBeCloseTo(x, 8);
        },
      ),
    );
  });
});
