// Apparent power, current, power factor and loading.

import { expect, test } from 'vitest';
import { apparentPower, lineCurrent, loading } from '../../../engine/physics/loading.ts';

test('apparent power and line current undo each other', () => {
  expect(apparentPower(400, lineCurrent(500e3, 400)!)).toBeCloseTo(500e3, 6);
});

test('what has no meaning is undefined', () => {
  expect(lineCurrent(500e3, 0)).toBeUndefined();
  expect(loading(1, 0)).toBeUndefined();
  expect(loading(450, 500)).toBe(0.9);
});
