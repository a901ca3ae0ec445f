// A primary that does not fit the network: a warning, an error far off, and swapped sides recognised.
import { describe, expect, it } from 'vitest';
import { windingMismatch as check } from '../../../engine/checks/winding-mismatch.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { findingsOf, lineAt, textAt, theFinding } from '../../kit/plants.ts';

const { code } = check;
const primary = (volts: number) => ['primary_voltage = 400 V', `primary_voltage = ${volts} V`] as const;

showsItself(check, { severity: 'warning' });

describe('the primary', () => {
  it('may be off by a tap, either way', () => {
    expectLimit(code, [primary(419.9)], [primary(420.1)], 'warning');
    expectLimit(code, [primary(380.1)], [primary(379.9)], 'warning');
  });

  it('is an error more than a fifth off', () => {
    expect(theFinding(sound(primary(479.9)), code).severity).toBe('warning');
    expect(theFinding(sound(primary(480.1)), code).severity).toBe('error');
  });

  it('is shown with the network’s voltage, how far off, and which way', () => {
    const plant = bad(check);
    const { message, place, related } = theFinding(plant, code);
    expect(message).toMatch(/made for 430 V, 7\.5 % above the network’s 400 V/);
    expect(lineAt(plant, place)).toBe('primary_voltage = 430 V');
    expect(related.map(({ place }) => textAt(plant, place))).toEqual(['voltage = 400 V ± 10 %']);
    expect(theFinding(sound(primary(370)), code).message).toMatch(/370 V, 7\.5 % below the network’s 400 V/);
  });

  it('is swapped with the secondary only where the secondary fits the network', () => {
    const secondary = ['secondary_voltage = 360 V', 'secondary_voltage = 400 V'] as const;
    expect(theFinding(sound(primary(690), secondary), code)).toMatchObject({ severity: 'error' });
    expect(theFinding(sound(primary(690), secondary), code).message).toContain(
      'T1’s sides look swapped: its primary of 690 V stands on a network of 400 V, which is what its secondary of 400 V would fit.',
    );
    expect(theFinding(sound(primary(690)), code).message).not.toContain('look swapped');
    // Within a fifth, and yet no taste of taps: the other side fits.
    expect(theFinding(sound(primary(430), secondary), code)).toMatchObject({ severity: 'error' });
    const near = (volts: number) => ['secondary_voltage = 360 V', `secondary_voltage = ${volts} V`] as const;
    expect(theFinding(sound(primary(690), near(419)), code).message).toContain('look swapped');
    expect(theFinding(sound(primary(690), near(381)), code).message).toContain('look swapped');
    expect(theFinding(sound(primary(690), near(421)), code).message).not.toContain('look swapped');
    expect(theFinding(sound(primary(690), near(379)), code).message).not.toContain('look swapped');
  });

  it('is the side that `connect` puts towards the network', () => {
    const turned = [
      ['connect MAIN -> T1 -> F1 -> K1 -> B1', 'connect B1 -> K1 -> F1 -> T1 -> MAIN'],
      ['primary_voltage = 400 V', 'primary_voltage = 360 V'],
    ] as const;
    const side = (volts: number) => ['secondary_voltage = 360 V', `secondary_voltage = ${volts} V`] as const;
    expect(findingsOf(sound(...turned, side(400)), code)).toEqual([]);
    const plant = sound(...turned, side(430));
    expect(theFinding(plant, code).message).toContain('made for 430 V');
    expect(lineAt(plant, theFinding(plant, code).place)).toBe('secondary_voltage = 430 V');
    const wrong = sound(turned[0], side(690));
    expect(theFinding(wrong, code).message).toContain(
      'T1’s sides look swapped: its primary of 690 V stands on a network of 400 V, which is what its secondary of 400 V would fit.',
    );
  });

  it('is judged behind a cable too', () => {
    const cable = [
      'connect MAIN -> T1',
      'cable W1 { length = 10 m, cross_section = 240 mm², parallel = 4 }\nconnect MAIN -> W1 -> T1',
    ] as const;
    expect(findingsOf(sound(cable), code)).toEqual([]);
    expect(theFinding(sound(cable, primary(430)), code).subject).toBe('T1');
  });

  it('is not judged of a transformer that nothing reaches', () => {
    const spare =
      'transformer T2 { rated_power = 500 kVA, primary_voltage = 690 V, secondary_voltage = 400 V, impedance = 6 % }';
    expect(findingsOf(sound(['filter F1 {', `${spare}\nfilter F1 {`]), code)).toEqual([]);
  });

  it('is judged for the first transformer behind the network alone', () => {
    const second = [
      ['connect MAIN -> T1 -> F1', 'connect MAIN -> T1 -> T2 -> F1'],
      [
        'filter F1 {',
        'transformer T2 { rated_power = 500 kVA, primary_voltage = 360 V, secondary_voltage = 360 V, impedance = 6 %, load_loss = 5.8 kW, no_load_loss = 800 W }\nfilter F1 {',
      ],
    ] as const;
    expect(findingsOf(sound(...second), code)).toEqual([]);
    expect(theFinding(sound(...second, primary(430)), code).subject).toBe('T1');
  });
});
