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
    const { message, place, related, limit } = theFinding(sound(height(1900)), code);
    expect(message).toBe(
      'At 1900 m K1 is taken at 91 % of its rated current, by common practice (1 % per 100 m above 1000 m): ask its maker for the derating, and state it as `altitude_derating`.',
    );
    expect(lineAt(sound(height(1900)), place)).toBe('altitude = 1900 m');
    expect(related.map(({ place }) => lineAt(sound(height(1900)), place))).toEqual(['converter K1 {']);
    expect(limit).toBeUndefined();
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
    const { message, place, related, limit } = theFinding(plant, code);
    expect(message).toMatch(
      /^At 2300 m, above 2000 m, thin air also weakens clearances and switching devices: ask K1’s maker/,
    );
    expect(limit).toMatchObject({ number: 2000, display: '2000 m' });
    expect(related.map(({ place }) => lineAt(plant, place))).toEqual(['converter K1 {']);
    expect(lineAt(plant, place)).toBe('altitude = 2300 m');
  });
});
