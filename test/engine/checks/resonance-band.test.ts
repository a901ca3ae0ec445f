// The filter’s resonance between network harmonics and switching, at weak and strong network.
import { describe, expect, it } from 'vitest';
import { resonanceBandCheck as check } from '../../../engine/checks/resonance-band.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, theFinding, worst } from '../../kit/plants.ts';

const { code } = check;
const switching = (hertz: number) => ['switching_frequency = 4 kHz', `switching_frequency = ${hertz} Hz`] as const;

showsItself(check, { severity: 'warning' });

describe('the resonance', () => {
  it('is to lie below half the switching frequency', () => {
    const highest = worst(sound(), 'F1.resonance_max').value;
    expectLimit(code, [switching(2 * highest + 1)], [switching(2 * highest - 1)], 'warning');
    const { message } = theFinding(bad(check), code);
    expect(message).toContain(worst(bad(check), 'F1.resonance_max').display);
    expect(message).toContain('2 kHz');
  });

  it('is to lie above ten times the network’s frequency, also where the network is weakest', () => {
    // f ~ 1/√C: the capacitor that takes the lower end of the resonance to 500 Hz.
    const lowest = worst(sound(), 'F1.resonance_min').value;
    const capacitor = (share: number) =>
      ['capacitance = 300 µF', `capacitance = ${300 * (lowest / (500 * share)) ** 2} µF`] as const;
    expectLimit(code, [capacitor(1.001)], [capacitor(0.999)], 'warning');
    expect(theFinding(sound(capacitor(0.9)), code).message).toMatch(/below 500 Hz \(ten times/);
  });

  it('is left to the control where it damps actively', () => {
    expect(findingsOf(bad(check, ['damping_resistance = 60 mΩ', 'damping = active']), code)).toEqual([]);
  });

  it('says whether anything damps it, and sits on the capacitor', () => {
    expect(theFinding(bad(check), code).message).toContain('the damping resistor lessens it');
    const plant = bad(check, ['  damping_resistance = 60 mΩ\n', '']);
    expect(theFinding(plant, code).message).toContain('no damping is stated');
    expect(lineAt(plant, theFinding(plant, code).place)).toBe('capacitance = 120 µF');
  });
});
