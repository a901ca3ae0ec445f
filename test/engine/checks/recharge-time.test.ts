// Full again before the duty comes back.
import { describe, expect, it } from 'vitest';
import { rechargeTimeCheck as check } from '../../../engine/checks/recharge-time.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, told } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'recharge_time')).toEqual({
    message:
      'B1 needs 80.56 min to take back what one run of start_peak costs, but only 75 min pass until it comes again: it empties a little more each time, most of the time bound by the power of the charge duty.',
    at: 'discharge = 400 kW for 45 min every 2 h',
    related: [
      [
        'charge_current = curve temperature { 0 °C 0 A, 10 °C 70 A, 25 °C 140 A, 45 °C 140 A }',
        'What one string may take.',
      ],
      ['voltage_limits = 2.80 V .. 3.60 V per cell', 'The voltage at which it tapers.'],
      ['strings = 4', 'Number of strings.'],
    ],
    limit: '75 min',
    fixes: [],
  });
});

describe('the judgement', () => {
  it('asks only of duties that come again', () => {
    expect(findingsOf(sound(), code)).toEqual([]);
    expect(findingsOf(sound(['for 45 min', 'for 45 min every 8 h']), code)).toEqual([]);
  });
});
