// A primary that does not fit the network: a warning, an error far off, and swapped sides recognised.
import { describe, expect, it } from 'vitest';
import { windingMismatch as check } from '../../../engine/checks/winding-mismatch.ts';
import { bad, expectLimit, showsItself, sound } from '../../kit/checks.ts';
import { lineAt, textAt, theFinding } from '../../kit/plants.ts';

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
    expect(theFinding(sound(primary(690), secondary), code).message).toContain('look swapped');
    expect(theFinding(sound(primary(690)), code).message).not.toContain('look swapped');
  });
});
