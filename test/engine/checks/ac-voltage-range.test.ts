// The terminals against the converter’s AC voltage span.
import { describe, expect, it } from 'vitest';
import { acVoltageRange as check } from '../../../engine/checks/ac-voltage-range.ts';
import { bad, expectLimit, showsItself, sound, without } from '../../kit/checks.ts';
import { lineAt, textAt, theFinding, worst } from '../../kit/plants.ts';

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
    const plant = sound(span(330));
    expect(theFinding(plant, code).message).toMatch(
      /^K1 would stand at 32\d(\.\d+)? V, below the 330 V at which it can still work at the lowest network voltage\.$/,
    );
  });

  it('shows the voltage and the span, on the winding', () => {
    const plant = bad(check);
    const { message, place, limit, related } = theFinding(plant, code);
    const { display } = worst(plant, 'K1.terminal_voltage');
    expect(message).toMatch(
      new RegExp(
        `^K1 would stand at ${display}, above the 405 V for which it is built during start_peak, at the highest`,
      ),
    );
    expect(lineAt(plant, place)).toBe('secondary_voltage = 360 V');
    expect(limit).toMatchObject({ number: 405, display: '405 V' });
    expect(related.map(({ place }) => textAt(plant, place))).toEqual(['ac_voltage = 300 V .. 405 V']);
  });

  it('judges a plant that only idles, and says no more than what is too high', () => {
    const idle = sound(
      ['ac_current = 850 A', 'ac_current = 850 A\n  ac_voltage = 330 V .. 360 V'],
      ...without('start_peak', 'braking'),
    );
    expect(theFinding(idle, code).message).toContain(
      'above the 360 V for which it is built at the highest network voltage.',
    );
  });
});
