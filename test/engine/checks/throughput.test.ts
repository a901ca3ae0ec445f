// Years until the warranty’s energy is used up.
import { describe, expect, it } from 'vitest';
import { throughput as check } from '../../../engine/checks/throughput.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'throughput')).toEqual({
    message:
      'The warranty of B1 covers 1 GWh; with 226.3 MWh delivered in a year that is used up after 4.4 years, less than the customary 10 years.',
    at: 'throughput_warranty = 1 GWh',
    related: [],
    limit: '10 years',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('counts ten years', () => {
    const often = ['for 45 min', 'for 45 min every 12 h'] as const;
    const yearly = worst(sound(often), 'B1.yearly_throughput').value;
    const warranty = (joule: number) =>
      ['temperature = 20 °C', `temperature = 20 °C\n  throughput_warranty = ${joule / 3.6e12} GWh`] as const;
    expectLimit(code, [often, warranty(yearly * 10.01)], [often, warranty(yearly * 9.99)], 'warning');
  });
});
