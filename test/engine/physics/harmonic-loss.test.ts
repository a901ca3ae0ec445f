// Harmonic loss factors: what they must be whatever the spectrum.

import { describe, expect, test } from 'vitest';
import {
  harmonicLossFactor,
  permissibleCurrent,
  relativeLoadLoss,
  usualKneeOrder,
} from '../../../engine/physics/harmonic-loss.ts';

const sine = [{ order: 1, amount: 430 }];
const distorted = [
  { order: 1, amount: 430 },
  { order: 5, amount: 40 },
  { order: 7, amount: 25 },
];
const withRipple = [...distorted, { order: 79, amount: 6 }, { order: 81, amount: 6 }];

test('a sine has all factors at one and carries its rated current', () => {
  expect(harmonicLossFactor(sine)).toBe(1);
  expect(permissibleCurrent({ eddy: 0.12 }, { eddy: 1 })).toBe(1);
});

test('factors depend on the shape of the spectrum alone', () => {
  const doubled = distorted.map(({ order, amount }) => ({ order, amount: 2 * amount }));
  expect(harmonicLossFactor(doubled)).toBeCloseTo(harmonicLossFactor(distorted)!, 12);
});

describe('past the knee', () => {
  test('the law is continuous', () => {
    const factorAt = (order: number): number => harmonicLossFactor([{ order, amount: 1 }])!;
    expect(factorAt(usualKneeOrder)).toBe(625);
    expect(factorAt(usualKneeOrder * (1 + 1e-9))).toBeCloseTo(625, 4);
    // Four times the frequency: twice the loss, where the plain square law has sixteen times.
    expect(factorAt(4 * usualKneeOrder)).toBeCloseTo(1250, 9);
    expect(harmonicLossFactor([{ order: 100, amount: 1 }], Number.POSITIVE_INFINITY)).toBe(10_000);
  });

  test('switching ripple counts, but far less than by the plain square law', () => {
    const low = harmonicLossFactor(distorted)!;
    const capped = harmonicLossFactor(withRipple)!;
    const square = harmonicLossFactor(withRipple, Number.POSITIVE_INFINITY)!;
    expect(capped).toBeGreaterThan(low);
    expect(square - low).toBeGreaterThan(5 * (capped - low));
  });

  test('below the knee both laws are the same', () => {
    expect(harmonicLossFactor(distorted)).toBe(harmonicLossFactor(distorted, Number.POSITIVE_INFINITY));
  });
});

test('at the permissible current the loss is that of rated sinusoidal current', () => {
  const shares = { eddy: 0.1, otherStray: 0.05 };
  const factors = { eddy: harmonicLossFactor(distorted)!, otherStray: 1.02 };
  const current = permissibleCurrent(shares, factors);
  expect(current).toBeLessThan(1);
  expect(relativeLoadLoss(current, shares, factors)).toBeCloseTo(1, 12);
});

test('each part of the loss counts by its share of that at rated current', () => {
  // 1 + 3·0.1 + 2·0.05 over 1 + 0.1 + 0.05.
  expect(relativeLoadLoss(1, { eddy: 0.1, otherStray: 0.05 }, { eddy: 3, otherStray: 2 })).toBeCloseTo(1.4 / 1.15, 12);
  expect(relativeLoadLoss(0.5, { eddy: 0.1, otherStray: 0.05 }, { eddy: 3 })).toBeCloseTo(1.35 / 1.15 / 4, 12);
});

test('more eddy loss permits less current', () => {
  const currents = [0, 0.05, 0.1, 0.2, 0.4].map(eddy => permissibleCurrent({ eddy }, { eddy: 3 }));
  expect(currents[0]).toBe(1);
  currents.slice(1).forEach((current, index) => {
    expect(current).toBeLessThan(currents[index]!);
  });
});

test('no current, no factor', () => {
  expect(harmonicLossFactor([])).toBeUndefined();
  expect(harmonicLossFactor([{ order: 5, amount: 0 }])).toBeUndefined();
});
