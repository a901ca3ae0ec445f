// The filter capacitor’s reactive power against the converter’s rating.
import { describe, expect, it } from 'vitest';
import { capacitorShareCheck as check } from '../../../engine/checks/capacitor-share.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { lineAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;
const rule = (share: number) =>
  ['transformer_spare = 5 %', `transformer_spare = 5 %, capacitor_share = ${share} %`] as const;

showsItself(check, { severity: 'warning' });

describe('the share', () => {
  it('is judged by the house rule', () => {
    // √3·U·I = 530.0 kVA; U²·ω·C = 360² · 314.16 · 300 µF = 12.21 kvar.
    const share = (100 * 360 ** 2 * 2 * Math.PI * 50 * 300e-6) / (Math.sqrt(3) * 360 * 850);
    expectLimit(code, [rule(share + 0.001)], [rule(share - 0.001)], 'warning');
  });

  it('shows both shares, on the capacitor', () => {
    const plant = bad(check);
    const { message, place } = theFinding(plant, code);
    const { display } = worst(plant, 'F1.capacitor_share');
    expect(message).toContain(
      `F1’s capacitor delivers ${display} of the converter’s rating as reactive power all the time, more than the customary 2 %:`,
    );
    expect(lineAt(plant, place)).toBe('capacitance = 300 µF');
  });

  it('counts a delta three times', () => {
    const delta = ['capacitance = 300 µF', 'capacitance = 300 µF\n  connection = delta'] as const;
    expect(worst(sound(delta), 'F1.capacitor_share').value / worst(sound(), 'F1.capacitor_share').value).toBeCloseTo(
      3,
      9,
    );
    expect(theFinding(sound(delta), code).severity).toBe('warning');
  });
});
