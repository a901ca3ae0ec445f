// What a converter keeps of its rating away from its rated switching frequency, and a transformer of its rise.

import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  dryTransformerRise,
  liquidTransformerRise,
  switchingFrequencyFactor,
} from '../../../engine/physics/derating.ts';
import { evenly } from '../../kit/evenly.ts';

test('full rating at the rated switching frequency', () => {
  expect(switchingFrequencyFactor(4000, 4000)).toBe(1);
});

test('a lower switching frequency earns nothing, a higher one costs', () => {
  expect(switchingFrequencyFactor(2000, 4000)).toBe(1);
  expect(switchingFrequencyFactor(8000, 4000)!).toBeCloseTo(1 / 1.5, 12);
  expect(switchingFrequencyFactor(0, 4000)).toBeUndefined();
});

test('only the share of the loss that switches grows with the frequency, from nothing to all of it', () => {
  expect(switchingFrequencyFactor(8000, 4000, 0)).toBe(1);
  expect(switchingFrequencyFactor(8000, 4000, 1)).toBe(0.5);
  expect(switchingFrequencyFactor(8000, 4000, -0.1)).toBeUndefined();
  expect(switchingFrequencyFactor(8000, 4000, 1.1)).toBeUndefined();
  expect(switchingFrequencyFactor(8000, 0)).toBeUndefined();
});

test('a dry transformer keeps 95 % or 90 % of its rise at 2000 m', () => {
  expect(dryTransformerRise(2000, 'natural')).toBeCloseTo(0.95, 12);
  expect(dryTransformerRise(2000, 'forced')).toBeCloseTo(0.9, 12);
});

test('factors stay between nothing and all, and never rise with height or frequency', () => {
  const rise = (kind: 'dry' | 'liquid') => (altitude: number) =>
    (kind === 'dry' ? dryTransformerRise : liquidTransformerRise)(altitude, 'forced');
  const pair = fc.tuple(evenly(0, 20_000), evenly(0, 20_000));
  fc.assert(
    fc.property(pair, ([a, b]) => {
      const [low, high] = a < b ? [a, b] : [b, a];
      for (const factor of [rise('dry'), rise('liquid'), (f: number) => switchingFrequencyFactor(f + 1, 4000)!]) {
        expect(factor(high)).toBeLessThanOrEqual(factor(low));
        expect(factor(high)).toBeGreaterThanOrEqual(0);
        expect(factor(low)).toBeLessThanOrEqual(1);
      }
    }),
  );
});
