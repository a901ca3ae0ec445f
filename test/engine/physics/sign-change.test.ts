// Places of a change of sign that are known exactly.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { signChange } from '../../../engine/physics/sign-change.ts';

/** The place found between two others, and how often the function was asked. */
function between(low: number, high: number, of: (x: number) => number): { place: number; calls: number } {
  let calls = 0;
  const counted = (x: number): number => {
    calls++;
    return of(x);
  };
  return { place: signChange([low, of(low)], [high, of(high)], counted), calls };
}

describe('where a function changes its sign', () => {
  it('is the root of two for x² − 2', () => {
    const { place, calls } = between(1, 2, x => x * x - 2);
    expect(place / Math.SQRT2 - 1).toBeCloseTo(0, 10);
    expect(calls).toBeLessThan(17);
  });

  it('is found where the function falls, bends, or stays nearly flat on one side', () => {
    expect(between(100, 1000, x => 400 / x - 1).place / 400 - 1).toBeCloseTo(0, 10);
    expect(between(1, 10, x => Math.max(x - 3, 1e-6 * (x - 3))).place / 3 - 1).toBeCloseTo(0, 9);
    expect(between(1, 10, x => x ** 20 - 2 ** 20).place / 2 - 1).toBeCloseTo(0, 9);
  });

  it('is the place of a jump', () => {
    const { place, calls } = between(1, 10, x => (x < Math.PI ? -1 : 5));
    expect(place / Math.PI - 1).toBeCloseTo(0, 9);
    expect(calls).toBeLessThan(101);
  });

  it('is the end of what is known, where beyond it nothing is', () => {
    expect(between(1, 10, x => (x < 4 ? Number.NaN : 1)).place / 4 - 1).toBeCloseTo(0, 9);
  });

  it('lies where the function is nothing, whatever its powers and its root', () => {
    const some = { min: 0.2, max: 5, noNaN: true };
    fc.assert(
      fc.property(fc.double(some), fc.double(some), (root, power) => {
        const { place } = between(root / 3, root * 2, x => (x / root) ** power - 1);
        expect(Math.abs(place / root - 1)).toBeLessThan(1e-9);
      }),
    );
  });
});
