// A lead-acid battery that is emptied fast wants its capacity by rate.
import { describe, expect, it } from 'vitest';
import { capacityByRate as check } from '../../../engine/checks/capacity-by-rate.ts';
import { bad, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, theFinding } from '../../kit/plants.ts';

const { code } = check;
const acid = ['  cells_in_series = 224\n', '  chemistry = lead_acid\n  cells_in_series = 224\n'] as const;

showsItself(check, { severity: 'warning' });

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
