// Thin air: a note on the common derating, a warning where clearances weaken.
import { describe, expect, it } from 'vitest';
import { altitude as check } from '../../../engine/checks/altitude.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, theFinding } from '../../kit/plants.ts';

const { code } = check;
const height = (metres: number) => ['altitude = 900 m', `altitude = ${metres} m`] as const;
const large = ['ac_current = 850 A', 'ac_current = 1000 A'] as const;

showsItself(check, { severity: 'warning' });

describe('the altitude', () => {
  it('is noted above 1000 m where the tool’s own derating counts', () => {
    expectLimit(code, [height(1000)], [height(1001)], 'note');
    // Common practice, no source: 1 % for each 100 m above 1000 m.
    expect(theFinding(sound(height(1900)), code).message).toMatch(/At 1900 m .* 91 % of its rated current/);
  });

  it('is no news where the maker states the derating', () => {
    const maker = [
      'ac_current = 850 A',
      'ac_current = 900 A\n  altitude_derating = curve altitude { 0 m 100 %, 3000 m 90 % }',
    ] as const;
    expect(findingsOf(sound(height(1900), maker), code)).toEqual([]);
    expect(theFinding(sound(height(2300), maker), code).severity).toBe('warning');
  });

  it('is a warning above 2000 m, on the altitude', () => {
    expect(theFinding(sound(height(2000), large), code).severity).toBe('note');
    expect(theFinding(sound(height(2001), large), code).severity).toBe('warning');
    const plant = bad(check);
    const { message, place } = theFinding(plant, code);
    expect(message).toContain('2300 m');
    expect(message).toContain('2000 m');
    expect(lineAt(plant, place)).toBe('altitude = 2300 m');
  });
});
