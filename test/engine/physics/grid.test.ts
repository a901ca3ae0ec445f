// The network's impedance and what a change of power does to the voltage.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { networkFaultCurrent, networkImpedance, voltageChange } from '../../../engine/physics/grid.ts';
import { solveLadderFromConverter } from '../../../engine/physics/ladder.ts';
import { faultCurrentBehind } from '../../../engine/physics/transformer.ts';
import { deviation, solved } from '../../kit/solved.ts';

describe('impedance', () => {
  test('gives back fault power and X/R', () => {
    const impedance = solved(networkImpedance(400, 9e6, 5));
    expect(deviation(impedance.reactance / impedance.resistance, 5)).toBeLessThan(1e-12);
    expect(deviation(faultCurrentBehind(400, impedance)!, networkFaultCurrent(400, 9e6)!)).toBeLessThan(1e-12);
  });

  test('has no resistance at an infinite X/R and no reactance at none', () => {
    expect(solved(networkImpedance(400, 10e6, Number.POSITIVE_INFINITY)).resistance).toBe(0);
    expect(solved(networkImpedance(400, 10e6, 0))).toEqual({ ok: true, resistance: 0.016, reactance: 0 });
  });

  test('takes the voltage factor', () => {
    expect(solved(networkImpedance(400, 10e6, 0, 1.1)).resistance).toBeCloseTo(0.0176, 15);
  });

  test.each([
    ['no voltage', 0, 10e6, 5, 1],
    ['no fault power', 400, 0, 5, 1],
    ['a negative fault power', 400, -10e6, 5, 1],
    ['a negative X/R', 400, 10e6, -5, 1],
    ['no voltage factor', 400, 10e6, 5, 0],
    ['an unknown voltage', Number.NaN, 10e6, 5, 1],
  ])('of %s is a problem', (_, voltage, faultPower, ratio, factor) => {
    expect(networkImpedance(voltage, faultPower, ratio, factor)).toEqual({ ok: false, problem: 'impossible_input' });
  });

  test('lets no current be told without a voltage', () => {
    expect(networkFaultCurrent(0, 1e6)).toBeUndefined();
  });
});

describe('voltage change', () => {
  const impedance = solved(networkImpedance(400, 9e6, 5));

  test('a rise for power delivered, a fall for power drawn', () => {
    expect(voltageChange(impedance, 400, 400e3, 0)!).toBeGreaterThan(0);
    expect(voltageChange(impedance, 400, -250e3, 0)!).toBeLessThan(0);
    expect(voltageChange(impedance, 0, 1, 1)).toBeUndefined();
  });

  test('agrees with the exact solution to the square of the change', () => {
    const line = { kind: 'series', resistance: impedance.resistance, reactance: impedance.reactance } as const;
    fc.assert(
      fc.property(fc.integer({ min: -300, max: 300 }), fc.integer({ min: -300, max: 300 }), (p, q) => {
        const short = voltageChange(impedance, 400, 1e3 * p, 1e3 * q)!;
        const exact = solved(solveLadderFromConverter([line], 400, 1e3 * p, 1e3 * q)).terminalVoltage / 400 - 1;
        // Size of the change if all of it were in phase.
        const size = (Math.hypot(p, q) * 1e3) / 9e6;
        expect(Math.abs(exact - short)).toBeLessThanOrEqual(1.5 * size * size + 1e-12);
      }),
    );
  });
});
