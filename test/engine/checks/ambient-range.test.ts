// Surroundings hotter than the converter’s rating, or colder than the battery’s data and every case.
import { describe, expect, it } from 'vitest';
import { ambientRange as check } from '../../../engine/checks/ambient-range.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { complaintCodes, findingsOf, lineAt, theFinding } from '../../kit/plants.ts';

const { code } = check;
const ambient = (low: number, high: number) =>
  ['ambient = 5 °C .. 40 °C', `ambient = ${low} °C .. ${high} °C`] as const;

showsItself(check, { severity: 'warning' });

const roomy = ['rated_power = 500 kVA', 'rated_power = 630 kVA'] as const;

describe('the heat', () => {
  it('is a warning above 40 °C where the converter states no derating', () => {
    expectLimit(code, [ambient(5, 40)], [ambient(5, 41)], 'warning');
    // The transformer feels the heat as well: one with room to spare.
    const plant = sound(ambient(5, 50), roomy);
    expect(complaintCodes(plant)).toEqual([`warning ${code}`]);
    const { message, place } = theFinding(plant, code);
    expect(message).toContain('50 °C');
    expect(message).toContain('40 °C');
    expect(lineAt(plant, place)).toBe('ambient = 5 °C .. 50 °C');
  });

  it('is counted where it does', () => {
    const derating = [
      'ac_current = 850 A',
      'ac_current = 950 A\n  ambient_derating = curve temperature { 40 °C 100 %, 50 °C 85 % }',
    ] as const;
    expect(complaintCodes(sound(ambient(5, 50), derating, roomy))).toEqual([]);
  });
});

describe('the cold', () => {
  it('is a warning below the battery’s data as long as no case judges such cells', () => {
    expectLimit(code, [ambient(0, 40)], [ambient(-1, 40)], 'warning');
    const { message } = theFinding(bad(check), code);
    for (const number of ['-20 °C', '0 °C', '20 °C']) expect(message).toContain(number);
    const judged = bad(check, ['require T1.loading <= 95 %', 'case frost { B1.temperature = -20 °C }']);
    expect(findingsOf(judged, code)).toEqual([]);
    expect(theFinding(judged, 'battery_current').message).toContain('in case frost');
  });
});
