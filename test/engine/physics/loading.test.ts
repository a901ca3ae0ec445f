// Apparent power, current, power factor and loading.

import { expect, test } from 'vitest';
import {
  apparentFromParts,
  apparentPower,
  lineCurrent,
  loading,
  reactivePowerAt,
} from '../../../engine/physics/loading.ts';

test('a 3-4-5 power triangle', () => {
  expect(apparentFromParts(300e3, -400e3)).toBeCloseTo(500e3, 9);
  expect(reactivePowerAt(300e3, 0.6)!).toBeCloseTo(400e3, 6);
  expect(reactivePowerAt(-300e3, 0.6)!).toBeCloseTo(400e3, 6);
});

test('apparent power and line current undo each other', () => {
  expect(apparentPower(400, lineCurrent(500e3, 400)!)).toBeCloseTo(500e3, 6);
});

test('what has no meaning is undefined', () => {
  expect(lineCurrent(500e3, 0)).toBeUndefined();
  expect(reactivePowerAt(1, 0)).toBeUndefined();
  expect(reactivePowerAt(1, 1.1)).toBeUndefined();
  expect(loading(1, 0)).toBeUndefined();
  expect(loading(450, 500)).toBe(0.9);
});
