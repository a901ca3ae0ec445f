// Bessel functions against their integral, against figures worked out to 25 digits elsewhere, and against identities.

import { describe, expect, test } from 'vitest';
import { besselOrders, vanishingOrder } from '../../../engine/physics/bessel.ts';

const besselJ = (order: number, x: number): number => besselOrders(x, order)[order]!;

const arguments_ = [1e-8, 0.01, 0.3, 1, 2.5, 5, 10, 20, 50, 100, 200, 400];

/** The mean of cos(n·t − x·sin t) over a turn; equal steps converge faster than any power once they outnumber n + x. */
function besselIntegral(order: number, x: number): number {
  const steps = 2 * (Math.ceil(Math.abs(x)) + order + 100);
  let sum = 0;
  for (let step = 0; step < steps; step++) {
    const angle = (2 * Math.PI * step) / steps;
    sum += Math.cos(order * angle - x * Math.sin(angle));
  }
  return sum / steps;
}

// Worked out with the Python library mpmath at 25 digits, rounded to what a number here can hold.
test.each([
  [0, 1, 0.7651976865579666],
  [1, 1, 0.4400505857449335],
  [0, 2.5, -0.048383776468198],
  [5, 10, -0.23406152818679363],
  [2, 0.1, 0.001248958658799919],
  [20, 50, -0.11670435275957974],
  [50, 50, 0.12140902189761506],
  [100, 50, 1.1159273690838094e-21],
  [3, 120, 0.009404539121233908],
])('J_%i(%d)', (order, x, expected) => {
  expect(Math.abs(besselJ(order, x) - expected)).toBeLessThan(1e-14 * Math.max(1, x / 10));
});

test.each(arguments_)('agrees with the defining integral to 1e-13 at %d', x => {
  const highest = vanishingOrder(x);
  const values = besselOrders(x, highest);
  for (const order of [0, 1, 2, 3, 7, Math.floor(x), highest].filter(order => order <= highest)) {
    expect(Math.abs(values[order]! - besselIntegral(order, x)), `order ${order}`).toBeLessThan(1e-13);
  }
});

describe('identities', () => {
  test.each(arguments_)('the squares J_0² + 2·ΣJ_n² add to one at %d', x => {
    const [first, ...others] = besselOrders(x, vanishingOrder(x));
    const sum = others.reduce((total, value) => total + 2 * value * value, first! * first!);
    expect(Math.abs(sum - 1)).toBeLessThan(1e-13);
  });

  test('a negative argument changes the sign of odd orders only', () => {
    expect(besselJ(3, -2)).toBe(-besselJ(3, 2));
    expect(besselJ(4, -2)).toBe(besselJ(4, 2));
  });

  test('at zero, and so near that nothing shows, only J_0 is left', () => {
    expect(besselOrders(0, 3)).toEqual([1, 0, 0, 0]);
    expect(besselOrders(1e-200, 2)).toEqual([1, 0, 0]);
  });

  test.each(arguments_)('nothing above 1e-16 is left past the vanishing order of %d', x => {
    expect(Math.abs(besselJ(vanishingOrder(x), x))).toBeLessThan(1e-16);
  });
});
