// Facts that contradict each other.
import { describe, expect, it } from 'vitest';
import { impossibleValue as check } from '../../../engine/checks/impossible-value.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { lineAt, theFinding, told } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'impossible_value')).toEqual({
    message:
      'T1’s load loss of 58 kW alone is 11.6 % of its rating, more than its whole impedance of 5.4 %: one of the two is wrong.',
    at: 'load_loss = 58 kW',
    related: [['impedance = 6 % ± 10 %', 'The impedance.']],
    limit: undefined,
    fixes: [],
  });
});

describe('contradictions', () => {
  it('a load loss above the least impedance', () => {
    // 6 % less its tolerance of a tenth, of 500 kVA: 27 kW.
    const loss = (kilowatts: number) => ['load_loss = 5.8 kW', `load_loss = ${kilowatts} kW`] as const;
    expectLimit(code, [loss(26.99)], [loss(27.01)], 'error');
    const { message, place } = theFinding(bad(check), code);
    expect(message).toMatch(/58 kW alone is 11\.6 % of its rating, more than its whole impedance of 5\.4 %/);
    expect(lineAt(bad(check), place)).toBe('load_loss = 58 kW');
  });

  it('a no-load loss above the no-load current', () => {
    const loss = (kilowatts: number) => ['no_load_loss = 800 W', `no_load_loss = ${kilowatts} kW`] as const;
    expectLimit(code, [loss(4.99)], [loss(5.01)], 'error');
    expect(theFinding(sound(loss(8)), code).message).toMatch(/1\.6 % of its rating, more than .* 1 %/);
  });

  it('contactors that open inside the span of operation', () => {
    const lowest = (share: number) => ['lowest_connected = 0 %', `lowest_connected = ${share} %`] as const;
    expectLimit(code, [lowest(10)], [lowest(11)], 'error');
    const plant = sound(lowest(20));
    expect(theFinding(plant, code).message).toMatch(/20 %.*10 %/);
    expect(lineAt(plant, theFinding(plant, code).place)).toBe('lowest_connected = 20 %');
  });

  it('a duty that charges and discharges', () => {
    const plant = sound(['charge = 250 kW', 'discharge = 10 kW, charge = 250 kW']);
    expect(theFinding(plant, code)).toMatchObject({ severity: 'error', subject: 'braking' });
  });
});
