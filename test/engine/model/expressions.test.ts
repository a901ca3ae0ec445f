// Expressions: dimensions, points on the temperature scale, functions, exponents, and what has no finite value.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { mistakesWith } from '../../kit/mistakes.ts';
import { analysed, complaints } from '../../kit/plants.ts';

const mistakesIn = (expression: string) => mistakesWith(`let x = ${expression}`);
const messagesIn = (expression: string) =>
  complaints(analysed(`${soundExample}\nlet x = ${expression}\n`)).map(finding => finding.message);

describe('comes out right', () => {
  it.each([
    '2 V * 3 A == 6 V*A',
    '10 kVA / 400 V == 25 A',
    '10 kW * 30 min == 5 kWh',
    '3 m * 2 m == 6 m²',
    '1 / 50 Hz == 20 ms',
    '400 V / 8 A == 50 Ω',
    '2 m + 30 cm == 2.3 m',
    '50 % + 0.25 == 0.75',
    '-2 ^ 2 == -4',
    '(-2) ^ 2 == 4',
    '2 + 3 * 4 == 14',
    '2 - 3 - 4 == -5',
    '24 / 4 / 2 == 3',
    'sqrt(9 m²) == 3 m',
    'sqrt(3) ^ 2 == 3',
    'min(3 m, 200 cm, 5 m) == 2 m',
    'max(3 m, 200 cm) == 3 m',
    'abs(2 V - 5 V) == 3 V',
    '30 °C - 10 °C == 20 K',
    '10 °C + 5 K == 15 °C',
    '10 °C - 5 K == 5 °C',
    'min(10 °C, 20 °C) == 10 °C',
    '2 * 5 K == 10 K',
    '1 != 2',
    '(1 m) ^ 2 == 1 m²',
  ])('%s', claim => expect(mistakesWith(`require ${claim}`)).toEqual([]));

  it('and a claim that does not hold is found', () => {
    expect(mistakesWith('require 2 V * 3 A == 7 V*A')).toEqual(['requirement at "require 2 V * 3 A == 7 V*A"']);
    expect(mistakesWith('require 1 < 1')).toEqual(['requirement at "require 1 < 1"']);
    expect(mistakesWith('require 1 == 1.001')).toEqual(['requirement at "require 1 == 1.001"']);
  });
});

describe('dimensions that do not go together', () => {
  it.each([
    '900 m + 3 V',
    '900 m - 3 V',
    '9 kW + 3 kVA',
    '9 kW + 3 kvar',
    '9 kVA - 3 kvar',
    'min(4 m, 5 V)',
    '5 V + 1',
    '400 V * 3 A + 5 kVA',
  ])('%s', expression => expect(mistakesIn(expression)).toEqual([`wrong_dimension at "${expression}"`]));

  it('say which two', () => expect(messagesIn('9 kW + 3 kVA')[0]).toMatch(/active power.*apparent power/));

  it('are told once, however much is made of them', () => {
    expect(mistakesWith('let x = 900 m + 3 V\nlet y = 2 * x\nlet z = y + x\nrequire z <= 5 m')).toEqual([
      'wrong_dimension at "900 m + 3 V"',
    ]);
  });

  it('are told in a comparison', () => {
    expect(mistakesWith('require 5 V <= 5 A')).toEqual(['wrong_dimension at "5 V <= 5 A"']);
  });
});

describe('a temperature is a point on a scale', () => {
  it.each(['9 °C + 3 °C', '9 °C * 2', '9 °C / 2', '-(9 °C)', '(20 °C) ^ 2', '5 K - 20 °C', '1 / 20 °C'])(
    'not: %s',
    expression => expect(mistakesIn(expression)).toEqual([`wrong_dimension at "${expression}"`]),
  );

  it('that has no root either', () => expect(mistakesIn('sqrt(20 °C)')).toEqual(['wrong_value at "sqrt(20 °C)"']));
});

describe('what has no finite value', () => {
  it.each([
    '900 m / 0',
    '0 m / 0',
    '900 m / (3 V - 3 V)',
    '900 m / (-1 .. 1)',
    'sqrt(-4 m²)',
    '1e308 m * 1e308',
    '1e308 m + 1e308 m',
    '10 ^ 400',
    '0 ^ -1',
  ])('%s', expression => expect(mistakesIn(expression)).toEqual([`wrong_value at "${expression}"`]));
});

describe('functions', () => {
  it.each([
    ['cos(4 m)', 'unknown_name at "cos"'],
    ['sqr(4 m²)', 'unknown_name at "sqr"'],
    ['abs(4 m, 5 m)', 'wrong_value at "abs(4 m, 5 m)"'],
    ['sqrt(4 m)', 'wrong_value at "sqrt(4 m)"'],
    ['min()', 'syntax at "()"'],
  ])('%s', (expression, expected) => expect(mistakesIn(expression)).toEqual([expected]));
});

describe('the exponent', () => {
  it('is a plain number', () => {
    expect(mistakesWith('let n = 2\nlet x = 3 ^ n')).toEqual(['syntax at "n"']);
    expect(mistakesIn('3 ^ (2 m)')).toEqual(['syntax at "(2 m)"']);
  });

  it('leads to a dimension that there is', () => {
    expect(mistakesIn('(30 m) ^ 0.5')).toEqual(['wrong_value at "(30 m) ^ 0.5"']);
    expect(messagesIn('(30 m) ^ 0.5')).toEqual(['There is no power 0.5 of a length.']);
  });
});

describe('what is no number', () => {
  it.each([
    ['"a" + 1 m', 'wrong_value at ""a" + 1 m"'],
    ['pick', 'wrong_value at "pick"'],
    ['1 m <= 2 m', 'syntax at "<="'],
    ['T1', 'wrong_value at "T1"'],
    ['HouseRules', 'wrong_value at "HouseRules"'],
    ['T1.impedance.x', 'wrong_value at "T1.impedance.x"'],
  ])('%s', (expression, expected) => expect(mistakesIn(expression)).toEqual([expected]));
});
