// Direct current against the converter’s DC rating.
import { describe, expect, it } from 'vitest';
import { dcCurrentCheck as check } from '../../../engine/checks/dc-current.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { lineAt, theFinding, told, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'dc_current')).toEqual({
    message:
      'K1’s DC side carries 598.3 A where 500 A is its rating during start_peak, at the lowest network voltage, at 10 % state of charge, delivering reactive power: a battery at low voltage needs more current for the same power.',
    at: 'dc_current = 500 A',
    related: [],
    limit: '500 A',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('counts the magnitude at the worst corner', () => {
    const highest = worst(sound(), 'K1.dc_current').value;
    const rating = (amperes: number) =>
      ['dc_voltage = 550 V .. 850 V', `dc_voltage = 550 V .. 850 V\n  dc_current = ${amperes} A`] as const;
    expectLimit(code, [rating(highest + 0.1)], [rating(highest - 0.1)], 'error');
  });

  it('is shown with the rating and the corner, on the rating', () => {
    const plant = bad(check);
    const { message, place, limit, point } = theFinding(plant, code);
    const { display } = worst(plant, 'K1.dc_current');
    expect(message).toMatch(
      new RegExp(`^K1’s DC side carries ${display} where 500 A is its rating during start_peak, .*: a`),
    );
    expect(point).toMatchObject({ duty: 'start_peak', soc: 0.1 });
    expect(lineAt(plant, place)).toBe('dc_current = 500 A');
    expect(limit).toMatchObject({ number: 500, display: '500 A' });
  });
});
