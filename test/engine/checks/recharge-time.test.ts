// Full again before the duty comes back.
import { describe, expect, it } from 'vitest';
import { rechargeTimeCheck as check } from '../../../engine/checks/recharge-time.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { type Edit, findingsOf, told, worst } from '../../kit/plants.ts';

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

const cases = (text: string): Edit => ['require T1.loading <= 95 %', text];
const every = (hours: number): Edit => ['for 45 min', `for 45 min every ${hours} h`];

describe('the judgement', () => {
  it('asks only of duties that come again', () => {
    expect(findingsOf(sound(), code)).toEqual([]);
    expect(findingsOf(sound(['for 45 min', 'for 45 min every 8 h']), code)).toEqual([]);
  });

  it('is of the battery’s results, whether a duty comes again or none does', () => {
    for (const { analysis } of [sound(), sound(['every 15 min', '']), sound(every(8))])
      expect([...analysis.judged]).toEqual(expect.arrayContaining(['B1.refill_soc', 'B1.refill_time']));
  });
});

describe('the pause', () => {
  it('is from the end of a run to the next', () => {
    const needed = worst(sound(every(8)), 'B1.refill_time').value / 3600;
    expectLimit(code, [every(0.75 + needed * 1.0001)], [every(0.75 + needed * 0.9999)], 'error');
  });

  it('is that of each case, and the case is told', () => {
    const often = told(sound(every(8), cases('case often { start_peak.repeat = 2 h }')), code);
    expect(often).toMatchObject({
      message: expect.stringContaining('but only 75 min pass until it comes again in case often: it'),
      at: 'start_peak.repeat = 2 h',
    });
    const only = told(sound(cases('case often { start_peak.repeat = 2 h }')), code);
    expect(only.message).toContain('but only 75 min pass until it comes again in case often: it');
    const slow = told(sound(every(2), cases('case slow { braking.charge = 200 kW }')), code);
    expect(slow.message).toMatch(
      /^B1 needs 100\.\d min .* in case slow: .*, most of the time bound by the power of the charge duty\.$/,
    );
  });
});

describe('a battery that never comes back', () => {
  it('is told with what it reaches and what binds it, and not asked for its time as well', () => {
    const low: Edit = ['2.80 V .. 3.60 V per cell', '2.80 V .. 3.33 V per cell'];
    const plant = sound(every(8), low);
    expect(told(plant, code)).toEqual({
      message: `B1 comes back to ${worst(plant, 'B1.refill_soc').display} state of charge after one run of start_peak, never to the 90 % from which it starts, bound by the greatest voltage of the battery.`,
      at: 'discharge = 400 kW for 45 min every 8 h',
      related: expect.arrayContaining([['strings = 4', 'Number of strings.']]),
      limit: '90 %',
      fixes: [],
    });
  });

  it('is told of the case in which the cold forbids all charge', () => {
    const plant = sound(every(8), cases('case cold { B1.temperature = 0 °C }'));
    expect(told(plant, code).message).toMatch(
      /^B1 comes back to 5\d\.\d* % .*, never to the 90 % from which it starts in case cold, bound by the charge current of the strings\.$/,
    );
  });
});
