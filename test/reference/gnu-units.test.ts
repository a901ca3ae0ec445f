// Compares every unit, every prefix and every compound that output prints with the program GNU units.
//
// Source of all wanted values: GNU units 2.22 (Debian package `units`), which this test runs. The target of each
// conversion is spelled from our exponents in base units, so a wrong dimension fails as "conformability error".

import { spawnSync } from 'node:child_process';
import { describe, expect, test } from 'vitest';
import { dimensions } from '../../engine/units/dimension.ts';
import { printUnitsOf, unitsOf } from '../../engine/units/preferred.ts';
import { fromSI, readUnit, spellings, toSI, type Unit } from '../../engine/units/read.ts';
import { prefixes, unitRows } from '../../engine/units/table.ts';
import { comparedByDifference, comparedWith } from '../kit/reference.ts';

/** Relative. */
const TOLERANCE = 1e-9;

/**
 * Our symbols in the words of GNU units, in full because its short names differ: there `ah` is no ampere-hour,
 * `a` is an are, and `C` and `F` alone may be read as anything. `@` marks where a prefix goes.
 */
const WORDS: Readonly<Record<string, string>> = {
  m: '@meter',
  cm: 'centimeter',
  dm: 'decimeter',
  l: '@liter',
  g: '@gram',
  t: 'tonne',
  N: '@newton',
  Pa: '@pascal',
  bar: '@bar',
  s: '@second',
  min: 'minute',
  h: 'hour',
  d: 'day',
  a: 'commonyear',
  Hz: '@hertz',
  V: '@volt',
  A: '@ampere',
  C: '@coulomb',
  Ah: '@ampere hour',
  Ω: '@ohm',
  S: '@siemens',
  H: '@henry',
  F: '@farad',
  W: '@watt',
  J: '@joule',
  Wh: '@watt hour',
  '1': '1',
  '%': 'percent',
  '‰': '0.1 percent',
  ppm: 'ppm',
  '°': 'degree',
  rad: '@radian',
  K: '@kelvin',
};

/** GNU units knows one power only. By definition var and VA are V·A (IEC 60050-131: from memory). */
const TAGGED_POWERS: Readonly<Record<string, string>> = {
  VA: '@volt ampere',
  var: '@volt ampere',
  VAh: '@volt ampere hour',
  varh: '@volt ampere hour',
};

/** Not compared: °C as a factor (compared as a scale below), and money, whose rates change by the day. */
const NOT_FACTORS = ['°C'];

const PREFIX_WORDS: Readonly<Record<string, string>> = {
  p: 'pico',
  n: 'nano',
  µ: 'micro',
  m: 'milli',
  k: 'kilo',
  M: 'mega',
  G: 'giga',
};

const program = { source: 'GNU units 2.22', evidence: 'outside program' } as const;
const nearFactor = comparedWith({ ...program, quantity: 'size of units, compounds and prefixes' });
const nearTemperature = comparedByDifference({ ...program, quantity: 'temperature scale, K or °C' });
const nearStated = comparedWith({
  quantity: 'size of units',
  source: 'NIST Special Publication 811 (2008), appendix B.8',
  evidence: 'from memory',
});

interface Question {
  readonly have: string;
  readonly want: string;
}

/** One run answers all questions in their order; strict, so that a reciprocal is no conversion. */
function askGnuUnits(questions: readonly Question[]): readonly number[] {
  const input = questions.map(({ have, want }) => `${have}\n${want}\n`).join('');
  const run = spawnSync('units', ['--quiet', '--terse', '--strict', '--output-format', '%.17g'], {
    input,
    encoding: 'utf8',
    env: { ...process.env, LC_ALL: 'C' },
  });
  if (run.error)
    throw new Error(`The program GNU units is needed for this test (Debian package "units"): ${run.error.message}`);
  const lines = run.stdout.trim().split('\n');
  const odd = lines.findIndex(line => Number.isNaN(Number(line)));
  if (odd >= 0)
    throw new Error(`GNU units says "${lines[odd]}" to "${questions[odd]?.have}" in "${questions[odd]?.want}"`);
  if (lines.length !== questions.length)
    throw new Error(`GNU units gave ${lines.length} answers to ${questions.length} questions`);
  return lines.map(Number);
}

/** A unit that is no compound, split by the table alone. */
function wordsOf(symbol: string): string | undefined {
  const all = { ...WORDS, ...TAGGED_POWERS };
  const plain = all[symbol];
  if (plain !== undefined) return plain.replace('@', '');
  const start = PREFIX_WORDS[symbol[0] ?? ''];
  const prefixed = all[symbol.slice(1)];
  return start === undefined || prefixed === undefined ? undefined : prefixed.replace('@', start);
}

/** Our canonical spelling of a compound, translated word by word, not by our reader. */
function translate(text: string): string {
  const factor = (part: string) => {
    const digits = [...part]
      .filter(character => '²³'.includes(character))
      .map(character => ({ '²': '2', '³': '3' })[character]);
    const words = wordsOf(part.replace(/[²³]/gu, ''));
    if (words === undefined) throw new Error(`No word for ${part} in ${text}`);
    return `(${words})${digits.length > 0 ? `^${digits.join('')}` : ''}`;
  };
  const [above = '', ...below] = text.split('/');
  return [above.split('*').map(factor).join(' '), ...below.map(factor)].join(' / ');
}

function baseUnits(unit: Unit): string {
  const names = ['meter', 'kilogram', 'second', 'ampere', 'kelvin'];
  const factors = names
    .map((name, index) => `${name}^${unit.dimension.exponents[index]}`)
    .filter(each => !each.endsWith('^0'));
  return factors.join(' ') || '1';
}

function compare(units: readonly Unit[], words: (unit: Unit) => string): void {
  const answers = askGnuUnits(units.map(unit => ({ have: words(unit), want: baseUnits(unit) })));
  for (const [index, unit] of units.entries()) {
    const answer = answers[index] ?? Number.NaN;
    nearFactor(unit.factor, answer, TOLERANCE);
    expect(Math.abs(toSI(1, unit) / answer - 1), unit.text).toBeLessThan(TOLERANCE);
    expect(Math.abs(fromSI(answer, unit) - 1), unit.text).toBeLessThan(TOLERANCE);
  }
}

const isMoneyUnit = (unit: Unit) => unit.dimension.currencies.length > 0;
const isFactor = (unit: Unit) => !isMoneyUnit(unit) && !NOT_FACTORS.includes(unit.text);

describe('GNU units', () => {
  test('is installed', () => {
    const version = spawnSync('units', ['--version'], { encoding: 'utf8' });
    expect(version.stdout ?? '', 'the Debian package "units" is missing').toContain('GNU Units version');
  });

  test('agrees on every unit with every prefix that it takes', () => {
    const units = [...new Set(spellings().values())].filter(isFactor);
    expect(units.length).toBeGreaterThan(150);
    compare(units, unit => {
      const words = wordsOf(unit.text);
      if (words === undefined) throw new Error(`${unit.text} has no counterpart in this test`);
      return words;
    });
  });

  test('agrees on every compound that is offered or printed', () => {
    const units = Object.values(dimensions).flatMap(each => [
      ...unitsOf(each),
      ...printUnitsOf(each).map(({ unit }) => unit),
    ]);
    const compounds = [...new Set(units)].filter(unit => isFactor(unit) && /[*/²³]/u.test(unit.text));
    expect(compounds.length).toBeGreaterThan(40);
    compare(compounds, unit => translate(unit.text));
  });

  test('agrees on compounds that people write', () => {
    const texts = [
      'J/kg/K',
      'W/m/K',
      'kN*m',
      'kg/m³',
      'mV/K',
      'Ω*m',
      'ppm/K',
      'kA²*s',
      'µH/m',
      'l/min',
      '1/a',
      'kWh/a',
      'm/s²',
      'A*s/V',
      'g/kWh',
    ];
    const units = texts.map(text => {
      const reading = readUnit(text);
      if (!reading.ok) throw new Error(text);
      return reading.unit;
    });
    compare(units, unit => translate(unit.text));
  });

  test('agrees on the coherent unit of every dimension', () => {
    const units = Object.values(dimensions).flatMap(({ unit }) => {
      const reading = readUnit(unit);
      return reading.ok && isFactor(reading.unit) && unit !== '' ? [reading.unit] : [];
    });
    compare(units, unit => translate(unit.text));
    for (const unit of units) expect(unit.factor).toBe(1);
  });

  test('agrees on the prefixes themselves', () => {
    const answers = askGnuUnits(prefixes.map(({ meaning }) => ({ have: meaning, want: '1' })));
    expect(prefixes.map(({ symbol }) => symbol)).toEqual(Object.keys(PREFIX_WORDS));
    for (const [index, { times, per }] of prefixes.entries()) nearFactor(times / per, answers[index]!, 0);
  });

  test('agrees on the temperature scale, both ways', () => {
    const reading = readUnit('°C');
    if (!reading.ok) throw new Error('°C is not read');
    const celsius = [-273.15, -40, -0.5, 0, 15, 25, 40, 104.4, 1000];
    const kelvin = askGnuUnits(celsius.map(value => ({ have: `tempC(${value})`, want: 'kelvin' })));
    const back = askGnuUnits(celsius.map(value => ({ have: `${value + 300} kelvin`, want: 'tempC' })));
    for (const [index, value] of celsius.entries()) {
      nearTemperature(toSI(value, reading.unit), kelvin[index]!, 5e-10);
      nearTemperature(fromSI(value + 300, reading.unit), back[index]!, 5e-10);
    }
  });

  test('is asked about every row but money', () => {
    const compared = [...Object.keys(WORDS), ...Object.keys(TAGGED_POWERS), ...NOT_FACTORS];
    const rows = unitRows.filter(row => row.dimension.currencies.length === 0).map(row => row.symbol);
    expect(rows.sort()).toEqual(compared.sort());
  });
});

describe('values that others state', () => {
  // NIST Special Publication 811 (2008), appendix B.8: kilowatt hour 3.6 E+06 J, ampere hour 3.6 E+03 C, bar 1 E+05 Pa,
  // year (365 days) 3.1536 E+07 s, litre 1 E-03 m³, metric ton 1 E+03 kg, degree 1.745329 E-02 rad (all from memory).
  test.each([
    ['kWh', 3.6e6],
    ['Ah', 3600],
    ['bar', 1e5],
    ['a', 3.1536e7],
    ['l', 1e-3],
    ['t', 1000],
    ['°', 1.745329e-2],
  ])('one %s', (text, wanted) => {
    const reading = readUnit(text);
    nearStated(reading.ok ? reading.unit.factor : Number.NaN, wanted, 5e-7);
  });
});
