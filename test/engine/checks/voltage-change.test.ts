// Jumps of the network’s voltage.
import { describe, expect, it } from 'vitest';
import { voltageChangeCheck as check } from '../../../engine/checks/voltage-change.ts';
import { showsItself, sound } from '../../kit/checks.ts';
import { theFinding, worst } from '../../kit/plants.ts';

const { code } = check;

showsItself(check, { severity: 'error' });

describe('the judgement', () => {
  it('agrees with the formula at the lowest fault power', () => {
    // R + jX of 9 MVA at 400 V with X/R = 5, P = 400 kW, Q = 400 kW·tan(acos 0.95).
    const impedance = 400 ** 2 / 9e6;
    const resistance = impedance / Math.hypot(1, 5);
    const change = (resistance * 400e3 + 5 * resistance * 400e3 * Math.tan(Math.acos(0.95))) / 400 ** 2;
    expect(worst(sound(), 'MAIN.voltage_change').value).toBeCloseTo(change, 6);
  });

  it('is a warning where only custom asks for it', () => {
    const rule = ['transformer_spare = 5 %', 'transformer_spare = 5 %\n  voltage_change = 2 %'] as const;
    expect(theFinding(sound(rule), code).severity).toBe('warning');
  });
});
