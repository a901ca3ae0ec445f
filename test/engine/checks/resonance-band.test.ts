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
    const { message, limit } = theFinding(bad(check), code);
    const { display } = worst(bad(check), 'F1.resonance_max');
    expect(message).toContain(
      `F1 resonates at ${display}, above 2 kHz (half the switching frequency), where the converter’s own ripple can excite it; the damping`,
    );
    expect(limit).toMatchObject({ number: 2000, display: '2 kHz' });
  });

  it('is to lie above ten times the network’s frequency, also where the network is weakest', () => {
    // f ~ 1/√C: the capacitor that takes the lower end of the resonance to 500 Hz.
    const lowest = worst(sound(), 'F1.resonance_min').value;
    const capacitor = (share: number) =>
      ['capacitance = 300 µF', `capacitance = ${300 * (lowest / (500 * share)) ** 2} µF`] as const;
    expectLimit(code, [capacitor(1.001)], [capacitor(0.999)], 'warning');
    const plant = sound(capacitor(0.9));
    const { message, limit } = theFinding(plant, code);
    const { display } = worst(plant, 'F1.resonance_min');
    expect(message).toContain(
      `F1 resonates at ${display}, below 500 Hz (ten times the network’s frequency), where network harmonics can excite it; the damping`,
    );
    expect(limit).toMatchObject({ number: 500, display: '500 Hz' });
  });

  it('is not judged of a filter that nothing reaches', () => {
    const spare = 'filter F2 { converter_inductance = 1 µH, capacitance = 1 µF }\n\nconverter K1 {';
    expect(findingsOf(sound(['converter K1 {', spare]), code)).toEqual([]);
  });

  it('is told once, of the network’s harmonics first, where it lies outside on both sides', () => {
    const plant = sound(['capacitance = 300 µF', 'capacitance = 3000 µF'], switching(700));
    expect(worst(plant, 'F1.resonance_max').value).toBeGreaterThan(350);
    expect(theFinding(plant, code).message).toContain('below 500 Hz');
  });

  it('is left to the control where it damps actively', () => {
    expect(findingsOf(bad(check, ['damping_resistance = 60 mΩ', 'damping = active']), code)).toEqual([]);
    expect(findingsOf(bad(check, ['damping_resistance = 60 mΩ', 'damping = none']), code)).toHaveLength(1);
  });

  it('says whether anything damps it, and sits on the capacitor', () => {
    expect(theFinding(bad(check), code).message).toContain('the damping resistor lessens it');
    const plant = bad(check, ['  damping_resistance = 60 mΩ\n', '']);
    expect(theFinding(plant, code).message).toMatch(/ can excite it; no damping is stated\.$/);
    expect(lineAt(plant, theFinding(plant, code).place)).toBe('capacitance = 120 µF');
  });
});
