// How units are read: spellings, look-alikes, compounds, and the rare suggestion for what is no unit.
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Dimension, dimensions as d, divide, moneyOf } from '../../../engine/units/dimension.ts';
import { unitsOf } from '../../../engine/units/preferred.ts';
import { fromSI, readUnit, spellings, toSI, type Unit } from '../../../engine/units/read.ts';
import { currencyCodes, prefixes, unitRows } from '../../../engine/units/table.ts';

function unit(text: string): Unit {
  const reading = readUnit(text);
  if (!reading.ok) throw new Error(`"${text}" is not read`);
  return reading.unit;
}

function near(text: string): string | undefined {
  const reading = readUnit(text);
  if (reading.ok) throw new Error(`"${text}" is read as ${reading.unit.text}`);
  return reading.near;
}

describe('one spelling for many', () => {
  test.each([
    ['mm²', ['mm2', 'mm^2', '㎟', 'mm²']],
    ['µH', ['uH', '\u00b5H', '\u03bcH']],
    ['Ω', ['ohm', 'Ohm', '\u2126', '\u03a9']],
    ['kΩ', ['kohm', 'k\u2126', '㏀']],
    ['Ω/km', ['ohm/km', 'Ω∕km', 'Ω⁄km']],
    ['A²*s', ['A2*s', 'A²·s', 'A²×s', 'A²⋅s', 'A^2*s']],
    ['°C', ['degC', '℃', 'ºC', '˚C', '°\u0421']],
    ['kvar', ['kVAr', 'kVAR', 'kVar']],
    ['K/W', ['\u212a/W', '\u041a/W']],
    ['l/s', ['L/s', 'ℓ/s']],
    ['1/s', ['s⁻¹', 's^-1', '1/s']],
    ['°', ['deg', 'º']],
    ['A*s/V', ['A*s/V', 'A·s/V', 'A*s*V^-1']],
    ['kg*m²/s³/A', ['kg*m²/s³/A', 'kg·m²·s⁻³·A⁻¹']],
  ])('%s', (wanted, spelled) => {
    for (const each of spelled) expect(unit(each).text).toBe(wanted);
  });
});

describe('what it measures and how large it is', () => {
  test.each<[number, string, Dimension, number]>([
    [35, 'mm²', d.area, 35e-6],
    [60, 'mΩ', d.resistance, 0.06],
    [300, 'µF', d.capacitance, 300e-6],
    [280, 'Ah', d.charge, 1_008_000],
    [45, 'min', d.time, 2700],
    [200, 'kWh', d.energy, 7.2e8],
    [0.124, 'ohm/km', d.resistance_per_length, 0.000124],
    [14, 'MVA', d.apparent_power, 14e6],
    [120, 'kvar', d.reactive_power, 120e3],
    [95, '%', d.ratio, 0.95],
    [4, '', d.count, 4],
    [25, 'W/K', d.thermal_conductance, 25],
    [0.39, '%/K', d.temperature_coefficient, 0.0039],
    [2, 'kA²*s', d.let_through, 2e6],
    [36, 'km/h', d.speed, 10],
    [12, 'm³/h', d.volume_flow, 12 / 3600],
    [250, 'V*A', d.power, 250],
    [50, 'kW/s', d.power_slope, 50e3],
    [100, 'A/ms', d.current_slope, 100e3],
    [0.0172, 'Ω*mm²/m', d.resistivity, 1.72e-8],
  ])('%d %s', (value, text, dimension, si) => {
    const read = unit(text);
    expect(read.dimension === dimension || (text === '' && read.dimension === d.ratio)).toBe(true);
    expect(Math.abs(toSI(value, read) / si - 1)).toBeLessThan(1e-15);
  });

  test('money, also per something', () => {
    expect(unit('EUR').dimension).toBe(moneyOf('EUR'));
    expect(unit('EUR/kWh').dimension).toBe(divide(moneyOf('EUR'), d.energy));
    expect(unit('CHF/kVA').dimension).toBe(divide(moneyOf('CHF'), d.apparent_power));
    expect(toSI(3.6, unit('EUR/kWh'))).toBe(1e-6);
  });

  test('°C is a point on a scale, K a difference', () => {
    expect(toSI(25, unit('°C'))).toBe(298.15);
    expect(fromSI(313.15, unit('°C'))).toBe(40);
    expect(unit('K').dimension).toBe(d.temperature_difference);
    expect(toSI(15, unit('K'))).toBe(15);
  });

  test('decimal fractions in a prefixed unit become the nearest number there is', () => {
    for (let value = 1; value <= 999; value++) {
      expect(toSI(value, unit('mΩ'))).toBe(Number(`${value}e-3`));
      expect(toSI(value, unit('µF'))).toBe(Number(`${value}e-6`));
      expect(toSI(value, unit('nF'))).toBe(Number(`${value}e-9`));
      expect(toSI(value, unit('mm²'))).toBe(Number(`${value}e-6`));
    }
  });
});

describe('what is no unit', () => {
  test.each([
    ['KV', 'kV'],
    ['kw', 'kW'],
    ['kva', 'kVA'],
    ['mva', 'MVA'],
    ['Mhz', 'MHz'],
    ['kwh', 'kWh'],
    ['mwh', 'MWh'],
    ['ma', 'mA'],
    ['AH', 'Ah'],
    ['KVAR', 'kvar'],
    ['kV/KM', 'kV/km'],
    ['Mm2', 'mm²'],
    ['W/k', 'W/K'],
    ['ohms', 'Ω'],
    ['hours', 'h'],
    ['mins', 'min'],
    ['mim', 'min'],
    ['kvra', 'kvar'],
    ['eur', 'EUR'],
    ['€/kWh', 'EUR/kWh'],
    ['mV/°C', 'mV/K'],
    ['J/kg*K', 'J/kg/K'],
  ])('%s suggests %s', (text, wanted) => {
    expect(near(text)).toBe(wanted);
    expect(unit(wanted).text).toBe(wanted);
  });

  test.each([
    'furlong',
    'x',
    'pu',
    'q',
    'constructor',
    '__proto__',
    'toString',
    '/',
    '*',
    'm/',
    '/s',
    '-',
    '2',
    '10',
    'm**s',
    '1/1',
    '1*m',
    '°C²',
    'm%',
    'Mm',
    'MW*',
  ])('%s suggests nothing wild', text => {
    const suggested = near(text);
    expect([undefined, 'mm']).toContain(suggested);
  });

  test('with the case lost, m is mega for powers and energies, milli otherwise', () => {
    expect(['mw', 'mvar', 'MvA', 'mv', 'mh'].map(text => (readUnit(text).ok ? text : near(text)))).toEqual([
      'MW',
      'mvar',
      'MVA',
      'mV',
      'mH',
    ]);
  });

  test('any text at all is read or refused, and every suggestion is read', () => {
    const scraps = fc.constantFrom(
      'm',
      'k',
      'V',
      'A',
      'W',
      'h',
      '²',
      '2',
      '/',
      '*',
      '^',
      '-',
      '°',
      'C',
      '1',
      'Ω',
      'ohm',
      '%',
      'var',
      'EUR',
      'x',
      ' ',
      '(',
      'é',
      '😀',
    );
    const texts = fc.oneof(
      fc.array(scraps, { maxLength: 6 }).map(parts => parts.join('')),
      fc.string({ maxLength: 8 }),
    );
    fc.assert(
      fc.property(texts, text => {
        const reading = readUnit(text);
        if (reading.ok) expect(unit(reading.unit.text)).toEqual(reading.unit);
        else if (reading.near !== undefined) expect(unit(reading.near).text).toBe(reading.near);
      }),
      { numRuns: 2000 },
    );
  });
});

describe('the table', () => {
  test('every spelling means one unit', () => {
    const claims = new Map<string, Set<string>>();
    for (const row of unitRows) {
      const starts = [
        '',
        ...prefixes
          .filter(({ symbol }) => row.prefixes.includes(symbol))
          .flatMap(each => [each.symbol, ...each.aliases]),
      ];
      for (const start of starts) {
        for (const spelling of [row.symbol, ...row.aliases]) {
          const all = claims.get(start + spelling) ?? new Set();
          claims.set(start + spelling, all.add(`${start.replace('u', 'µ')} ${row.symbol}`));
        }
      }
    }
    expect([...claims].filter(([, meanings]) => meanings.size > 1)).toEqual([]);
    expect(claims.size).toBe(spellings().size);
  });

  test('every row asks only for prefixes that exist, and says what it is', () => {
    const known = prefixes.map(each => each.symbol);
    for (const row of unitRows) {
      for (const symbol of row.prefixes) expect(known).toContain(symbol);
      expect(row.meaning).not.toBe('');
    }
  });

  test('every unit reads as itself, with a finite size', () => {
    for (const [spelling, each] of spellings()) {
      expect(unit(spelling)).toBe(each);
      expect(unit(each.text)).toBe(each);
      expect(each.factor).toBeGreaterThan(0);
      expect(each.factor).toBe(each.times / each.per);
    }
  });

  // The runtime carries the Unicode locale data (CLDR), which lists the currencies of ISO 4217; it leaves out
  // the funds, and codes that are newer than itself may be absent.
  test('currency codes are those of ISO 4217', () => {
    const fundsAndNewest = ['BOV', 'CHE', 'CHW', 'CLF', 'COU', 'MXV', 'USN', 'UYI', 'UYW', 'VED'];
    const listed = new Set(Intl.supportedValuesOf('currency'));
    expect(currencyCodes.filter(code => !listed.has(code) && !fundsAndNewest.includes(code))).toEqual([]);
    expect(new Set(currencyCodes).size).toBe(currencyCodes.length);
  });

  test('a row is frozen to its dimension: named dimensions spell their own SI unit', () => {
    for (const [name, dimension] of Object.entries(d)) {
      if (name === 'count' || name === 'money') continue;
      const si = unit(dimension.unit);
      expect([name, si.dimension]).toEqual([name, dimension]);
      expect([name, si.factor]).toEqual([name, 1]);
    }
  });

  test('named dimensions have an example that measures them', () => {
    for (const dimension of Object.values(d)) {
      const [number = '', text = ''] = dimension.example?.split(' ') ?? [];
      expect(Number(number.replaceAll('_', ''))).not.toBeNaN();
      if (dimension !== d.count && dimension !== d.money) expect(unit(text).dimension).toBe(dimension);
    }
  });
});

describe('units to offer', () => {
  test('the usual ones first', () => {
    expect(unitsOf(d.capacitance).map(each => each.text)).toEqual(['µF', 'mF', 'F', 'nF']);
    expect(unitsOf(d.active_power)[0]?.text).toBe('kW');
    expect(unitsOf(d.count)).toEqual([]);
    expect(unitsOf(divide(moneyOf('EUR'), d.energy)).map(each => each.text)).toEqual(['EUR/kWh']);
  });

  test('all of them measure what they are offered for', () => {
    for (const dimension of Object.values(d)) {
      if (dimension === d.count || dimension === d.money) continue;
      const units = unitsOf(dimension);
      expect(units.length).toBeGreaterThan(0);
      for (const each of units) expect([each.text, each.dimension]).toEqual([each.text, dimension]);
    }
  });
});
