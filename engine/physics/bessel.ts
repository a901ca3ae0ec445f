// Bessel functions of the first kind with whole orders, for the sidebands of pulse-width modulation.

/**
 * J_0(x) … J_highest(x), each good to about 1e-14 absolute. Miller's scheme: the recurrence J_{k-1} = (2k/x)·J_k − J_{k+1}
 * is run downwards from an order at which J has died out, then scaled by J_0 + 2·(J_2 + J_4 + …) = 1. Both relations:
 * Abramowitz and Stegun, 9.1.27 and 9.1.46 (from memory). Takes time in proportion to |x| + highest.
 */
export function besselOrders(x: number, highest: number): number[] {
  const size = Math.abs(x);
  const values = new Array<number>(highest + 1).fill(0);
  values[0] = 1;
  if (size < nearZero) return values;

  let above = 0,
    here = 1,
    evenSum = 0;
  for (let order = startingOrder(size, highest); order >= 0; order--) {
    // `here` stands for J_order, up to the scale that isn't known yet.
    if (order <= highest) values[order] = here;
    if (order % 2 === 0) evenSum += order === 0 ? here : 2 * here;
    const below = ((2 * order) / size) * here - above;
    above = here;
    here = below;
    if (Math.abs(here) > tooLarge) {
      above /= tooLarge;
      here /= tooLarge;
      evenSum /= tooLarge;
      for (let known = order; known <= highest; known++) values[known]! /= tooLarge;
    }
  }
  for (let order = 0; order <= highest; order++) {
    values[order]! /= x < 0 && order % 2 === 1 ? -evenSum : evenSum;
  }
  return values;
}

/** From here on J_n(x) is below 1e-16: past n = x it falls faster than exp of −(n − x)^1.5/√x. */
export const vanishingOrder = (x: number): number => Math.ceil(Math.abs(x) + 13 * Math.cbrt(Math.abs(x)) + 18);

/** Below this J_0 is 1 and all others are nought, to far more digits than asked for. */
const nearZero = 1e-20;
const tooLarge = 1e100;

/** Far enough above both that the arbitrary start no longer shows. */
const startingOrder = (size: number, highest: number): number => Math.max(vanishingOrder(size), highest) + 20;
