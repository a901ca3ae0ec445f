// Spreads: ranges whose ends both occur, nominals with a tolerance, and one variable wherever they are read.
import { describe, expect, it } from 'vitest';
import { soundExample } from '../../../engine/checks/example.ts';
import { messagesOf, mistakesOf, mistakesWith } from '../../kit/mistakes.ts';
import { analysed, type Edit, edited, worst } from '../../kit/plants.ts';

const voltage = (text: string): Edit => ['400 V ± 10 %', text];

function lowestAndHighest(text: string): readonly number[] {
  const plant = analysed(edited(soundExample, voltage(text)));
  return ['MAIN.voltage_low', 'MAIN.voltage_high'].map(name => Math.round(worst(plant, name).value * 1e6) / 1e6);
}

describe('a tolerance', () => {
  it.each([
    ['400 V ± 10 %', [360, 440]],
    ['400 V ± 20 V', [380, 420]],
    ['400 V +10 % -15 %', [340, 440]],
    ['400 V +10 V -20 V', [380, 410]],
    ['0.4 kV +/- 5 %', [380, 420]],
    ['(2 * 200 V) ± 10 %', [360, 440]],
  ])('%s', (text, expected) => expect(lowestAndHighest(text)).toEqual(expected));

  it('in per cent counts of the nominal, of a ratio too', () => {
    expect(mistakesWith('let impedance = 6 % ± 10 %\nrequire impedance >= 5.4 %\nrequire impedance <= 6.6 %')).toEqual(
      [],
    );
    expect(mistakesWith('let impedance = 6 % ± 10 %\nrequire impedance >= 5.5 %')).toEqual([
      'requirement at "require impedance >= 5.5 %"',
    ]);
  });

  it('of a temperature is a difference', () => {
    expect(mistakesWith('let room = 20 °C ± 5 K\nrequire room <= 25 °C')).toEqual([]);
    expect(mistakesWith('let room = 20 °C ± 10 %')).toEqual(['wrong_dimension at "10 %"']);
  });

  it('that makes a voltage vanish is impossible', () => {
    expect(mistakesOf(voltage('400 V ± 110 %'))).toEqual(['impossible_value at "400 V ± 110 %"']);
  });

  it('is refused where a property takes none', () => {
    expect(mistakesOf(['soc = 10 % .. 90 %', 'soc = 50 % ± 10 %'])).toEqual(['wrong_value at "50 % ± 10 %"']);
    expect(messagesOf(['soc = 10 % .. 90 %', 'soc = 50 % ± 10 %'])[0]).toContain('takes no tolerance');
  });
});

describe('a range', () => {
  it('written downwards is told once, and nothing is made of it', () => {
    expect(mistakesOf(['9 MVA .. 14 MVA', '14 MVA .. 9 MVA'])).toEqual(['reversed_range at "14 MVA .. 9 MVA"']);
  });

  it('may have one and the same end', () => expect(mistakesOf(['9 MVA .. 14 MVA', '9 MVA .. 9 MVA'])).toEqual([]));

  it('is refused where one value is wanted, and wanted where it is', () => {
    expect(mistakesOf(['x_over_r = 5', 'x_over_r = 5 .. 6'])).toEqual(['wrong_value at "5 .. 6"']);
    expect(mistakesOf(['soc = 10 % .. 90 %', 'soc = 10 %'])).toEqual(['wrong_value at "10 %"']);
  });
});

it('does not nest', () => {
  expect(mistakesOf(voltage('(400 V ± 10 %) ± 5 %'))).toEqual(['wrong_value at "(400 V ± 10 %) ± 5 %"']);
  expect(mistakesOf(['9 MVA .. 14 MVA', '(8 MVA .. 9 MVA) .. 14 MVA'])).toEqual([
    'wrong_value at "(8 MVA .. 9 MVA) .. 14 MVA"',
  ]);
});

describe('a stated spread is one variable everywhere', () => {
  it('so that x − x is nothing', () => {
    const x = 'let x = 1 V .. 3 V\n';
    expect(mistakesWith(`${x}require x - x == 0 V`)).toEqual([]);
    expect(mistakesWith(`${x}require x / x == 1`)).toEqual([]);
    expect(mistakesWith(`${x}let y = 2 * x\nrequire y - x - x == 0 V`)).toEqual([]);
  });

  it('and two spreads that read alike are two variables', () => {
    expect(mistakesWith('let x = 1 V .. 3 V\nlet y = 1 V .. 3 V\nrequire x - y == 0 V')).toEqual([
      'requirement at "require x - y == 0 V"',
    ]);
  });

  it('also as the fact of a component', () => {
    expect(mistakesWith('require MAIN.voltage - MAIN.voltage == 0 V')).toEqual([]);
    expect(mistakesWith('require MAIN.voltage <= 440 V')).toEqual([]);
    expect(mistakesWith('require MAIN.voltage <= 439 V')).toEqual(['requirement at "require MAIN.voltage <= 439 V"']);
  });

  it('and is taken at its corners', () => {
    const x = 'let x = -2 V .. 3 V\n';
    expect(mistakesWith(`${x}require x + 1 V >= -1 V\nrequire x + 1 V <= 4 V`)).toEqual([]);
    expect(mistakesWith(`${x}require x + 1 V >= -0.9 V`)).toEqual(['requirement at "require x + 1 V >= -0.9 V"']);
  });
});
