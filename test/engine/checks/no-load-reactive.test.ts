// Reactive power without load.
import { describe, expect, it } from 'vitest';
import { noLoadReactive as check } from '../../../engine/checks/no-load-reactive.ts';
import { showsItself, sound } from '../../kit/checks.ts';
import { worst } from '../../kit/plants.ts';

showsItself(check, { severity: 'warning' });

describe('the judgement', () => {
  it('is the capacitor’s reactive power less the transformer’s', () => {
    // At 440 V: 300 µF on 396 V, and 1 % of 500 kVA with 0.16 % of it active, both with the square of the voltage.
    const capacitor = 396 ** 2 * 2 * Math.PI * 50 * 300e-6;
    const magnetising = 500e3 * Math.sqrt(0.01 ** 2 - (800 / 500e3) ** 2) * 1.1 ** 2;
    expect(worst(sound(), 'K1.no_load_reactive_power').value / (capacitor - magnetising)).toBeCloseTo(1, 1);
  });
});
