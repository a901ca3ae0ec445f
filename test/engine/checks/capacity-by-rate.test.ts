// A lead-acid battery that is emptied fast wants its capacity by rate.
import { describe, expect, it } from 'vitest';
import { capacityByRate as check } from '../../../engine/checks/capacity-by-rate.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, theFinding, told } from '../../kit/plants.ts';

const { code } = check;
const acid = ['  cells_in_series = 224\n', '  chemistry = lead_acid\n  cells_in_series = 224\n'] as const;

showsItself(check, { severity: 'warning' });

it('tells its reader what is wrong, where, beside what, and against which limit', () => {
  expect(told(bad(check), 'capacity_by_rate')).toEqual({
    message:
      'B1 is lead-acid and states one `capacity` of 280 Ah for all rates; start_peak would empty a full string in 115.3 min at the lowest network voltage, delivering reactive power, where such cells give far less than over the ten or twenty hours for which a capacity is usually stated: at one hour often half of it. State it as a curve, such as `capacity = curve current { 20 A 200 Ah, 100 A 120 Ah }`.',
    at: 'capacity = 280 Ah',
    related: [
      ['chemistry = lead_acid', 'The chemistry.'],
      ['discharge = 400 kW for 45 min', 'This duty empties it.'],
    ],
    limit: '5 h',
    fixes: [],
  });
});

describe('one capacity for all rates', () => {
  it('is pointed at, with the time in which the duty would empty the battery', () => {
    const { message, place, subject } = theFinding(bad(check), code);
    expect(subject).toBe('B1');
    expect(lineAt(bad(check), place)).toBe('capacity = 280 Ah');
    expect(message).toMatch(/start_peak would empty a full string in 115\.\d min at the lowest network voltage/);
  });

  it('will do for another chemistry, for a slow discharge, and is gone with a curve', () => {
    expect(findingsOf(sound(), code)).toEqual([]);
    // 400 kW empties it in well under five hours, 100 kW in about eight.
    expect(findingsOf(sound(acid, ['discharge = 400 kW', 'discharge = 100 kW']), code)).toEqual([]);
    const curve = 'capacity = curve current { 20 A 320 Ah, 150 A 280 Ah, 300 A 220 Ah }';
    expect(findingsOf(sound(acid, ['capacity = 280 Ah', curve]), code)).toEqual([]);
  });
});
