// Tappings on load: the ratios that they reach, and a changer that steps until the voltage lies in its dead band.

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { customaryLeastDeadBand, largestStep, ratioSpan, regulatedRatio } from '../../../engine/physics/taps.ts';
import { evenly } from '../../kit/evenly.ts';

describe('the dead band', () => {
  const taps = { step: 0.0125, above: 8, below: 8 };

  test('is a fifth wider by custom than the greatest step, which is at the lowest turns', () => {
    // From the last position but one to the last, the turns fall from 0.9125 to 0.9 of the principal ones.
    expect(largestStep(taps)).toBeCloseTo(0.9125 / 0.9 - 1, 12);
    expect(customaryLeastDeadBand(taps)).toBeCloseTo((1.2 * 0.0125) / 0.9, 12);
    expect(largestStep({ ...taps, below: 0 })).toBe(0.0125);
    expect(largestStep({ ...taps, above: 0 })).toBeCloseTo(0.0125 / 0.9, 12);
  });

  test('needs no width where there is one position', () => {
    expect(largestStep({ step: 0.01, above: 0, below: 0 })).toBe(0);
  });

  test('as wide as by custom lets a changer come to rest from any position, within its reach', () => {
    const half = customaryLeastDeadBand(taps) / 2;
    const secondary = (network: number, position: number) => network / (50 * (1 + position * taps.step));
    fc.assert(
      fc.property(evenly(18.1e3, 21.9e3), fc.integer({ min: -8, max: 8 }), (network, start) => {
        let position = start;
        for (let step = 0; step < 16; step++) {
          if (secondary(network, position) > 400 * (1 + half)) position++;
          else if (secondary(network, position) < 400 * (1 - half)) position--;
        }
        expect(Math.abs(secondary(network, position) / 400 - 1)).toBeLessThanOrEqual(half);
      }),
    );
  });
});

describe('the ratio of a regulator', () => {
  const principal = 400 / 360;

  test('follows the network between the ends of its tappings', () => {
    const span = ratioSpan(principal, 0.1, 'network');
    expect(regulatedRatio(380, 360, span)).toBeCloseTo(380 / 360, 12);
    expect(regulatedRatio(300, 360, span)).toBeCloseTo(0.9 * principal, 12);
    expect(regulatedRatio(500, 360, span)).toBeCloseTo(1.1 * principal, 12);
  });

  test('reaches further up than down with the tappings on the other winding', () => {
    const { least, greatest } = ratioSpan(principal, 0.1, 'converter');
    expect(least).toBeCloseTo(principal / 1.1, 12);
    expect(greatest).toBeCloseTo(principal / 0.9, 12);
  });
});
