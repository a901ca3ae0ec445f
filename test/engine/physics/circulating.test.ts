// The ripple round the loop of two converters: volt-seconds over inductance.
import { describe, expect, it } from 'vitest';
import { circulatingRipple } from '../../../engine/physics/circulating.ts';

describe('the ripple of two carriers in opposition', () => {
  it('is half a period of the whole direct voltage over the loop', () => {
    // 800 V for 125 µs across 200 µH.
    expect(circulatingRipple(800, 4000, 200e-6)).toBeCloseTo(500, 9);
  });

  it('has no bound where there is no inductance', () => {
    expect(circulatingRipple(800, 4000, 0)).toBe(Number.POSITIVE_INFINITY);
  });

  it.each([
    ['no direct voltage', 0, 4000, 200e-6],
    ['a negative direct voltage', -800, 4000, 200e-6],
    ['no switching', 800, 0, 200e-6],
    ['a negative frequency', 800, -4000, 200e-6],
    ['a negative inductance', 800, 4000, -200e-6],
    ['an unknown inductance', 800, 4000, Number.NaN],
  ])('is not told for %s', (_, voltage, frequency, loop) => {
    expect(circulatingRipple(voltage, frequency, loop)).toBeUndefined();
  });
});
