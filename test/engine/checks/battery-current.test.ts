// Each string against what its maker permits, both ways, in the cold too.
import { describe, expect, it } from 'vitest';
import { batteryCurrent as check } from '../../../engine/checks/battery-current.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, textAt, theFinding, valueAt, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

describe('the string current', () => {
  it('is judged against the permitted discharge current', () => {
    const needed = worst(sound(), 'B1.string_current').value;
    const limit = (amperes: number) => ['discharge_current = 280 A', `discharge_current = ${amperes} A`] as const;
    expectLimit(code, [limit(needed + 0.05)], [limit(needed - 0.05)], 'error');
    expect(theFinding(sound(limit(100)), code).message).toContain('discharging during start_peak');
  });

  it('is judged against the permitted charge current at the battery’s temperature', () => {
    // At 20 °C half-way between 15 °C and 25 °C: (70 + 140)/2 A at 17.5 °C, so 116.67 A by the straight line from 10 °C.
    const plant = bad(check);
    expect(valueAt(plant, 'B1.string_current_limit', { duty: 'braking', soc: 0.1 })).toBeCloseTo(
      70 + (70 * 10) / 15,
      9,
    );
    const { message, place, related } = theFinding(plant, code);
    expect(message).toContain('116.7 A');
    expect(message).toContain('charging during braking');
    expect(lineAt(plant, place)).toBe('strings = 4');
    expect(related.map(({ place }) => textAt(plant, place).split(' ')[0])).toEqual(['charge_current', 'charge']);
  });

  it('is a charge from the bottom of the span, where the voltage is lowest', () => {
    expect(theFinding(bad(check), code).point).toMatchObject({ duty: 'braking', soc: 0.1, voltage: 'high' });
  });

  it('says how many strings would do, and is right', () => {
    expect(theFinding(bad(check), code).message).toContain('about 5 strings would do');
    expect(findingsOf(bad(check, ['strings = 4', 'strings = 5']), code)).toEqual([]);
  });

  it('promises no number of strings where charging is forbidden', () => {
    const plant = sound(['temperature = 20 °C', 'temperature = 0 °C']);
    const { message } = theFinding(plant, code);
    expect(message).toContain('0 A is what its maker permits');
    expect(message).not.toContain('would do');
  });

  it('names the case, and counts the strings that the case leaves', () => {
    const plant = sound(
      ['require T1.loading <= 95 %', 'case one_lost { B1.strings = 3 }'],
      ['charge = 250 kW', 'charge = 300 kW'],
    );
    const { message, point } = theFinding(plant, code);
    expect(point?.case).toBe('one_lost');
    expect(message).toContain('in case one_lost');
    expect(message).toContain('about 4 strings would do');
  });
});
