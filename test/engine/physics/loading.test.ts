// Apparent power.

import { expect, test } from 'vitest';
import { apparentPower } from '../../../engine/physics/loading.ts';

test('400 V and 721.7 A a line are 500 kVA, three times what a phase takes', () => {
  expect(apparentPower(400, 721.688)).toBeCloseTo(500e3, 0);
  expect(apparentPower(400, 100)).toBeCloseTo(3 * (400 / Math.sqrt(3)) * 100, 9);
});
