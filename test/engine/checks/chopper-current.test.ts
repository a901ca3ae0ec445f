// The current on the low side of a chopper against its rating.
import { describe, expect, it } from 'vitest';
import { chopperCurrent } from '../../../engine/checks/chopper-current.ts';
import { bad, showsItself } from '../../kit/checks.ts';
import { withChopper } from '../../kit/choppers.ts';
import { findingsOf, theFinding, told, worst } from '../../kit/plants.ts';

showsItself(chopperCurrent, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(chopperCurrent), 'chopper_current')).toEqual({
    message:
      'Q1’s low side carries 1272 A where 900 A is its rating during start_peak, at the lowest network voltage, at 10 % state of charge, delivering reactive power: the lower the voltage there, the more current the same power needs.',
    at: 'current = 900 A',
    related: [],
    limit: '900 A',
    fixes: [],
  });
});

describe('the rating of a chopper', () => {
  it('is judged at the lowest voltage of the battery', () => {
    const needed = worst(withChopper(), 'Q1.current').value;
    const rated = (amperes: number) => withChopper(['current = 1500 A', `current = ${amperes} A`]);
    expect(findingsOf(rated(needed + 1), 'chopper_current')).toEqual([]);
    const { point } = theFinding(rated(needed - 1), 'chopper_current');
    expect(point?.soc).toBe(0.1);
    expect(point?.duty).toBe('start_peak');
  });
});
