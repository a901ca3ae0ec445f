// The terminals against the converter’s AC voltage span.
import { describe, it } from 'vitest';
import { acVoltageRange as check } from '../../../engine/checks/ac-voltage-range.ts';
import { expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

describe('the judgement', () => {
  it('judges the highest voltage of duty and idling against the upper end', () => {
    const highest = worst(sound(), 'K1.terminal_voltage').value;
    const span = (volts: number) =>
      ['ac_current = 850 A', `ac_current = 850 A\n  ac_voltage = 300 V .. ${volts} V`] as const;
    expectLimit(code, [span(highest + 0.1)], [span(highest - 0.1)], 'error');
  });

  it('judges the idle voltage at the lowest network voltage against the lower end', () => {
    // 360 V network, ratio 400/360, and a little rise by the capacitor: just above 324 V.
    const span = (volts: number) =>
      ['ac_current = 850 A', `ac_current = 850 A\n  ac_voltage = ${volts} V .. 500 V`] as const;
    expectLimit(code, [span(323)], [span(326)], 'error');
  });
});
