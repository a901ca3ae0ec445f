// Ripple in the converter-side choke.
import { describe, expect, it } from 'vitest';
import { rippleCurrentCheck as check } from '../../../engine/checks/ripple-current.ts';
import { showsItself, sound } from '../../kit/checks.ts';
import { worst } from '../../kit/plants.ts';

showsItself(check, { severity: 'warning' });

describe('the judgement', () => {
  it('agrees with U_dc/(6·f·L)', () => {
    // Reznik et al., IEEE TIA 50(2), 2014 (from memory).
    const highest = worst(sound(), 'K1.dc_voltage_max').value;
    expect(worst(sound(), 'F1.ripple_current').value).toBeCloseTo(highest / (6 * 4000 * 100e-6), 6);
  });
});
