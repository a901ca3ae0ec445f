// The sidebands' coefficients against their defining integral.

import { describe, expect, test } from 'vitest';
import { vanishingOrder } from '../../../engine/physics/bessel.ts';
import {
  highestIndex,
  highestSideband,
  sidebandAmplitude,
  sidebandCoefficients,
} from '../../../engine/physics/sidebands.ts';
import { type Injection, reference } from '../../kit/switched.ts';

const injections: readonly Injection[] = ['sine', 'third_harmonic', 'space_vector'];

/**
 * Amplitudes over half the direct voltage, the same on either side of the carrier, by the distance up to a furthest one:
 * 4/(πm) times the mean of sin(mπ/2·(1 + f)) · cos(n·y), by Simpson's rule, which takes few steps for a smooth wave; else
 * many, the kinks of the reference on their nodes.
 */
function integrals(injection: Injection, index: number, multiple: number, furthest: number): readonly number[] {
  const steps = injection === 'space_vector' ? 24_000 : 600;
  const cosines = Float64Array.from({ length: steps }, (_, step) => Math.cos((2 * Math.PI * step) / steps));
  const samples = cosines.map((_, step) => {
    const turn = ((multiple * Math.PI) / 2) * (1 + reference((2 * Math.PI * step) / steps, 0, index, injection));
    return (step % 2 === 1 ? 4 : 2) * Math.sin(turn);
  });
  return Array.from({ length: furthest + 1 }, (_, distance) => {
    let sum = 0;
    for (let step = 0; step < steps; step++) sum += samples[step]! * cosines[(distance * step) % steps]!;
    return (4 / (Math.PI * multiple)) * (sum / (3 * steps));
  });
}

describe.each(injections)('%s', injection => {
  test.each([1, 2, 3, 7])('carrier multiple %i agrees with the integral at every sideband', multiple => {
    for (const index of [0.15, 0.6, highestIndex(injection)]) {
      const coefficients = sidebandCoefficients(injection, index, multiple, 40);
      const integrated = integrals(injection, index, multiple, 40);
      for (let sideband = -40; sideband <= 40; sideband++) {
        const amplitude = sidebandAmplitude(coefficients, multiple, sideband);
        const expected = integrated[Math.abs(sideband)]!;
        expect(Math.abs(amplitude - expected), `M = ${index}, sideband ${sideband}`).toBeLessThan(1e-9);
      }
    }
  });

  test.each([1, 4, 11])('nothing above the level is left past the highest sideband of multiple %i', multiple => {
    const level = 1e-4;
    for (const index of [0.3, highestIndex(injection)]) {
      const end = highestSideband(injection, index, multiple, level);
      const coefficients = sidebandCoefficients(injection, index, multiple, end + 200);
      for (let sideband = end; sideband <= end + 200; sideband++) {
        expect(Math.abs(sidebandAmplitude(coefficients, multiple, sideband))).toBeLessThan(level);
      }
    }
  });

  test('coefficients from a lowest sideband on are those of the whole list', () => {
    const whole = sidebandCoefficients(injection, 0.8, 3, 60);
    const part = sidebandCoefficients(injection, 0.8, 3, 60, 25);
    for (let sideband = 25; sideband <= 60; sideband++) {
      expect(sidebandAmplitude(part, 3, sideband)).toBe(sidebandAmplitude(whole, 3, sideband));
    }
  });
});

describe('the highest sideband', () => {
  test('of a smooth reference is the last order that its steepest slope leaves of a Bessel function, at any level', () => {
    for (const [index, multiple] of [
      [0.3, 1],
      [0.9, 4],
    ] as const) {
      const depth = (multiple * Math.PI * index) / 2;
      for (const level of [1e-3, 1e-6]) {
        expect(highestSideband('sine', index, multiple, level)).toBe(vanishingOrder(depth));
        expect(highestSideband('third_harmonic', index, multiple, level)).toBe(vanishingOrder(1.5 * depth));
      }
    }
  });

  test('of min-max injection goes on until six kinks, each of slope √3/2·M, leave no more than the level', () => {
    for (const index of [0.3, 1.1]) {
      for (const level of [1e-3, 1e-6]) {
        const tail = highestSideband('space_vector', index, 2, level) - vanishingOrder(1.5 * Math.PI * index);
        const left = (distance: number) => (6 * (Math.sqrt(3) / 2) * index) / (Math.PI * distance ** 2);
        expect(left(tail)).toBeLessThanOrEqual(level);
        expect(left(tail - 1)).toBeGreaterThan(level);
      }
    }
  });
});
