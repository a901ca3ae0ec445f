// The algebra of dimensions: what products and quotients measure, and that active, reactive and apparent power stay apart.
import fc from 'fast-check';
import { expect, describe as group, test } from 'vitest';
import {
  assignable,
  type Dimension,
  dimensions as d,
  describe,
  dimensionOf,
  divide,
  isMoney,
  moneyOf,
  multiply,
  power,
} from '../../../engine/units/dimension.ts';

const named: readonly Dimension[] = Object.values(d);
const anyDimension = fc.constantFrom(...named, moneyOf('EUR'), moneyOf('CHF'));
/** Where tags and points play no part, the algebra is a plain commutative group. */
const untagged = fc.constantFrom(...named.filter(each => each.kind === undefined && each !== d.power), moneyOf('EUR'));

group('products and quotients', () => {
  test.each([
    ['resistance × current', multiply(d.resistance, d.current), d.voltage],
    ['voltage / current', divide(d.voltage, d.current), d.resistance],
    ['length × length', multiply(d.length, d.length), d.area],
    ['current × time', multiply(d.current, d.time), d.charge],
    ['voltage × charge', multiply(d.voltage, d.charge), d.energy],
    ['let-through × resistance', multiply(d.let_through, d.resistance), d.energy],
    ['resistance / length', divide(d.resistance, d.length), d.resistance_per_length],
    ['inductance / resistance', divide(d.inductance, d.resistance), d.time],
    ['resistance × capacitance', multiply(d.resistance, d.capacitance), d.time],
    ['√(L × C)', power(multiply(d.inductance, d.capacitance), 0.5), d.time],
    ['1 / time', divide(d.ratio, d.time), d.frequency],
    ['temperature difference / active power', divide(d.temperature_difference, d.active_power), d.thermal_resistance],
    ['energy / temperature difference', divide(d.energy, d.temperature_difference), d.heat_capacity],
    ['let-through / current²', divide(d.let_through, power(d.current, 2) ?? d.ratio), d.time],
  ])('%s', (_, made, wanted) => expect(made).toBe(wanted));
});

group('the three powers', () => {
  test('active power stays what it is through factors and times', () => {
    expect(multiply(d.active_power, d.ratio)).toBe(d.active_power);
    expect(multiply(d.count, d.active_power)).toBe(d.active_power);
    expect(multiply(d.active_power, d.time)).toBe(d.energy);
    expect(divide(d.energy, d.time)).toBe(d.active_power);
    expect(multiply(d.thermal_conductance, d.temperature_difference)).toBe(d.active_power);
  });

  test('reactive and apparent power keep their tags over time', () => {
    expect(multiply(d.apparent_power, d.time)).toBe(d.apparent_energy);
    expect(divide(d.apparent_energy, d.time)).toBe(d.apparent_power);
    expect(multiply(d.reactive_power, d.time)).toBe(d.reactive_energy);
    expect(divide(d.reactive_energy, d.time)).toBe(d.reactive_power);
  });

  test('voltage × current is none of them', () => {
    const product = multiply(d.voltage, d.current);
    expect(product).toBe(d.power);
    expect(product.kind).toBeUndefined();
    for (const tagged of [d.active_power, d.reactive_power, d.apparent_power]) {
      expect(assignable(product, tagged)).toBe(false);
      expect(assignable(tagged, product)).toBe(false);
    }
    expect(multiply(product, d.ratio)).toBe(product);
    expect(multiply(multiply(d.current, d.current), d.resistance)).toBe(product);
  });

  test('any two of them over each other are a ratio', () => {
    const powers = [d.active_power, d.reactive_power, d.apparent_power, d.power];
    for (const a of powers) for (const b of powers) expect(divide(a, b)).toBe(d.ratio);
  });

  test('over something electrical they are what the exponents say', () => {
    expect(divide(d.apparent_power, d.voltage)).toBe(d.current);
    expect(divide(d.reactive_power, multiply(d.voltage, d.voltage))).toBe(d.conductance);
    expect(divide(multiply(d.voltage, d.voltage), d.apparent_power)).toBe(d.resistance);
    expect(divide(d.active_power, d.current)).toBe(d.voltage);
  });

  test('squares of different powers do not add up', () => {
    const squares = [d.active_power, d.reactive_power, d.apparent_power].map(each => power(each, 2));
    expect(new Set(squares).size).toBe(3);
    expect(squares.map(each => each && power(each, 0.5))).toEqual([d.active_power, d.reactive_power, d.apparent_power]);
  });
});

group('money', () => {
  const euro = moneyOf('EUR');

  test('each currency is a dimension of its own', () => {
    expect(moneyOf('EUR')).toBe(euro);
    expect(moneyOf('CHF')).not.toBe(euro);
    expect(divide(euro, moneyOf('CHF'))).not.toBe(d.ratio);
    expect(divide(euro, euro)).toBe(d.ratio);
  });

  test('a price asks for money of any currency', () => {
    expect(assignable(euro, d.money)).toBe(true);
    expect(assignable(divide(euro, d.energy), d.money)).toBe(false);
    expect(isMoney(multiply(divide(euro, d.energy), d.energy))).toBe(true);
  });

  test('a price per kW does not pay for kVA', () => {
    expect(multiply(divide(euro, d.active_power), d.active_power)).toBe(euro);
    expect(multiply(divide(euro, d.apparent_power), d.apparent_power)).toBe(euro);
    expect(multiply(divide(euro, d.active_power), d.apparent_power)).not.toBe(euro);
  });
});

group('words', () => {
  test.each([
    [d.length, 'a length'],
    [d.area, 'an area'],
    [d.active_power, 'an active power'],
    [d.temperature_difference, 'a temperature difference'],
    [moneyOf('EUR'), 'an amount in EUR'],
    [divide(moneyOf('EUR'), d.energy), 'a price in EUR per energy'],
    [divide(moneyOf('EUR'), d.apparent_power), 'a price in EUR per apparent power'],
    [multiply(d.voltage, d.length), 'a quantity in kg*m³/A/s³'],
  ])('%#', (dimension, words) => expect(describe(dimension)).toBe(words));

  test('every name is used once', () => {
    expect(new Set(named.map(each => each.name)).size).toBe(named.length);
  });

  test('an article fits its name', () => {
    for (const { name, phrase } of named) expect(phrase).toBe(`${/^[aeiou]/u.test(name) ? 'an' : 'a'} ${name}`);
  });
});

group('laws', () => {
  test('one instance per dimension', () => {
    for (const each of named) {
      if (each !== d.money) expect(dimensionOf(each.exponents.slice(0, 5), each.kind)).toBe(each);
    }
  });

  test('products commute', () => {
    fc.assert(fc.property(anyDimension, anyDimension, (a, b) => multiply(a, b) === multiply(b, a)));
  });

  test('exponents and currencies add, whatever the tags', () => {
    const si = (each: Dimension) => [each.exponents.slice(0, 5), each.currencies];
    fc.assert(
      fc.property(anyDimension, anyDimension, anyDimension, (a, b, c) => {
        expect(si(multiply(multiply(a, b), c))).toEqual(si(multiply(a, multiply(b, c))));
        expect(si(divide(multiply(a, b), b))).toEqual(si(a));
      }),
    );
  });

  test('without tags a product is associative to the letter, up to the one question which power it is', () => {
    const powers = [d.power, d.active_power];
    const same = (a: Dimension, b: Dimension) => a === b || (powers.includes(a) && powers.includes(b));
    fc.assert(
      fc.property(untagged, untagged, untagged, (a, b, c) => {
        expect(same(multiply(multiply(a, b), c), multiply(a, multiply(b, c)))).toBe(true);
        expect(same(divide(multiply(a, b), b), a)).toBe(true);
      }),
    );
  });

  // An angle is left out: squared it is a ratio, and a ratio times an angle is an angle again.
  test('powers follow from products', () => {
    fc.assert(
      fc.property(
        anyDimension.filter(each => each.kind !== 'point' && each !== d.power && each !== d.angle),
        fc.integer({ min: 1, max: 3 }),
        (a, n) => {
          let product: Dimension = a;
          for (let i = 1; i < n; i++) product = multiply(product, a);
          expect(power(a, n)).toBe(product);
          expect(power(product, 1 / n)).toBe(a);
        },
      ),
    );
  });

  test('a root that leaves no whole exponent is none', () => {
    expect(power(d.voltage, 0.5)).toBeUndefined();
    expect(power(d.area, 0.5)).toBe(d.length);
    expect(power(d.length, 25)).toBeUndefined();
    expect(power(d.length, Number.NaN)).toBeUndefined();
    expect(power(d.length, 0)).toBe(d.ratio);
    expect(power(d.ratio, 0.3)).toBe(d.ratio);
  });
});
